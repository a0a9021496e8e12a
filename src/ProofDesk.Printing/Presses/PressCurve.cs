using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Printed area of each film tone of one screen through one mesh: a patch of every tone is screened and goes through the press's
/// own kernels, so that lost dots, ragged growth and holes that close are what the print will have, whatever the dots' shape.
/// Found on the usual film recorder; optical gain is not in it.
/// </summary>
public sealed class PressCurve
{
    private const int Words = 12;
    private const int Rows = 640;

    /// <summary>Noise of one film: a curve is a mean over hundreds of dots, so which noise matters little.</summary>
    private const ulong Seed = 1;

    private static readonly PictureScale Scale = PictureScale.Of(OutputDevice.Fallback);
    private static readonly Lazy<NoiseMasks> DotNoise = new(() => LostDots.Noise(Seed, Scale.PixelUm));
    private static readonly Lazy<NoiseMasks> EdgeNoise = new(() => InkSpread.Noise(Seed, Scale.PixelUm));

    /// <summary>Film tones of the samples: close together where dots are lost, far apart above.</summary>
    private static readonly byte[] Films =
    [
        .. Enumerable.Range(0, 17).Select(i => (byte)(4 * i)),
        .. Enumerable.Range(1, 15).Select(i => (byte)(64 + 12 * i)),
        255,
    ];

    private readonly double[] _printed = new double[Films.Length];

    /// <param name="growthUm">Growth of this plate's ink on what lies below it.</param>
    public PressCurve(Screen screen, Mesh mesh, PressSettings press, double growthUm)
    {
        var tile = ThresholdArray.For(screen, OutputDevice.Fallback).Tile;
        var lost = LostDots.Of(mesh, press.HeldFeatureScale, Scale.PixelUm, DotNoise.Value);
        var spread = new InkSpread(growthUm, growthUm, press.GrowthNoiseUm, Scale, EdgeNoise.Value, false, 0);
        RowLoop.RunBands(
            Films.Length,
            1,
            (i, _) => _printed[i] = Films[i] == 255 ? 1 : Print(Films[i], tile, lost, spread)
        );
        // More film is never less ink; a sample may be off by a few dots.
        for (var i = 1; i < _printed.Length; i++)
            _printed[i] = Math.Max(_printed[i], _printed[i - 1]);
    }

    /// <summary>Printed area 0..1 of a film tone 0..1.</summary>
    public double Printed(double film)
    {
        var tone = 255 * Math.Clamp(film, 0, 1);
        var i = 1;
        while (i < Films.Length - 1 && Films[i] < tone)
            i++;
        var share = (tone - Films[i - 1]) / (Films[i] - Films[i - 1]);
        return _printed[i - 1] + share * (_printed[i] - _printed[i - 1]);
    }

    private static double Print(byte tone, ThresholdTile tile, LostDots lost, InkSpread spread)
    {
        if (tone == 0)
            return 0;
        const int width = 64 * Words;
        var kept = new BitPlane(width, Rows + 2 * spread.HaloRows);
        var film = new BitPlane(width, kept.Height + 2 * lost.HaloRows);
        new HalftoneRows(new(1, 1, [tone]), null, tile, film.Width, film.Height).Read(0, film);
        var rows = new DiscRows();
        lost.Print(film, kept, new(width, kept.Height + 2 * lost.RegrowRows), rows, 0, 0, 0);
        var inked = new BitPlane(width, Rows);
        spread.Spread(kept, null, inked, new(width, Rows + 2), new(width, Rows + 2), rows, 0, 0);
        // The first and the last word lack neighbours.
        long ink = 0;
        for (var y = 0; y < Rows; y++)
            ink += BitRows.CountInk(inked.Row(y)[1..^1]);
        return ink / (64.0 * (Words - 2) * Rows);
    }
}
