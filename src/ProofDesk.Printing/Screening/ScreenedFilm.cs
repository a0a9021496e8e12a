using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// A film made from its plate, row by row on demand. Ink where the outline's coverage, interpolated to film resolution,
/// is at least one half and the interpolated tone exceeds the threshold. Tone should reach an art pixel past the
/// outline, or its fading edge would be screened.
/// </summary>
public sealed class ScreenedFilm : Film
{
    private readonly ThresholdArray _thresholds;
    private readonly HalftoneRows _rows;

    internal ScreenedFilm(Plate plate, ThresholdArray thresholds, int width, int height)
        : base(plate, width, height)
    {
        _thresholds = thresholds;
        _rows = new(plate.Tone, plate.Shape, thresholds.Tile, width, height);
    }

    public override (double LinesPerInch, double AngleDegrees) TrueScreen =>
        (_thresholds.TrueLinesPerInch, _thresholds.TrueAngleDegrees);

    public override void ReadRows(int top, BitPlane band) => _rows.Read(top, band);
}
