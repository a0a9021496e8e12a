using System.Collections.Concurrent;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// A film made from its plate, row by row on demand. Ink where the outline's coverage, interpolated to film resolution,
/// is at least one half and the interpolated tone exceeds the threshold. Tone should reach an art pixel past the
/// outline, or its fading edge would be screened. Solids of the plate come on top, as sharp as its outline.
/// </summary>
public sealed class ScreenedFilm : Film
{
    private readonly ThresholdArray _thresholds;
    private readonly HalftoneRows _rows;
    private readonly HalftoneRows? _solids;
    private readonly ConcurrentBag<BitPlane> _bands = [];

    internal ScreenedFilm(Plate plate, ThresholdArray thresholds, int width, int height)
        : base(plate, width, height)
    {
        _thresholds = thresholds;
        _rows = new(plate.Tone, plate.Shape, thresholds.Tile, width, height);
        if (plate.Solid is not { } solid)
            return;
        _solids = new(BytePlane.Filled(solid.Width, solid.Height, 255), solid, thresholds.Tile, width, height);
    }

    public override (double LinesPerInch, double AngleDegrees) TrueScreen =>
        (_thresholds.TrueLinesPerInch, _thresholds.TrueAngleDegrees);

    public override void ReadRows(int top, BitPlane band)
    {
        _rows.Read(top, band);
        if (_solids is null)
            return;
        // Bands of one height come again and again.
        if (!_bands.TryTake(out var solids) || solids.Height != band.Height)
            solids = new(band.Width, band.Height);
        _solids.Read(top, solids);
        for (var y = 0; y < band.Height; y++)
        {
            var row = band.Row(y);
            var solid = solids.Row(y);
            for (var i = 0; i < row.Length; i++)
                row[i] |= solid[i];
        }
        _bands.Add(solids);
    }
}
