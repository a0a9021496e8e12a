using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Printed tone of a film tone, measured on the bits themselves: a patch of each tone is screened as the film will be and
/// grown by the press simulator's own kernel. Where a dot is one device pixel, plane geometry (<see cref="ToneCompensation"/>)
/// is off by 6 L*: growth by part of a pixel is whole pixels in some places.
/// </summary>
internal sealed class PrintedTones
{
    private const int Levels = 64;
    private const int Words = 8;
    private const int Rows = 192;

    private readonly double[] _printed = new double[Levels + 1];

    public PrintedTones(Screen screen, OutputDevice device, PressSettings press)
    {
        var array = ThresholdArray.For(screen, device);
        var scale = PictureScale.Of(device);
        var noise = InkSpread.Noise(1, scale.PixelUm);
        RowLoop.RunBands(
            Levels + 1,
            8,
            (first, count) =>
            {
                for (var level = first; level < first + count; level++)
                    _printed[level] = Measure(screen, array, scale, noise, press, level / (double)Levels);
            }
        );
        for (var level = 1; level <= Levels; level++)
            _printed[level] = Math.Max(_printed[level], _printed[level - 1]);
    }

    /// <summary>Film tone that prints a wanted tone, both 0..1.</summary>
    public double Film(double wanted)
    {
        if (wanted is <= 0 or >= 1)
            return Math.Clamp(wanted, 0, 1);
        for (var i = 0; i < Levels; i++)
            if (_printed[i + 1] >= wanted)
                return (i + (wanted - _printed[i]) / (_printed[i + 1] - _printed[i])) / Levels;
        return 1;
    }

    private static double Measure(
        Screen screen,
        ThresholdArray array,
        PictureScale scale,
        NoiseMasks noise,
        PressSettings press,
        double tone
    )
    {
        if (tone is 0 or 1)
            return tone;
        var spread = new InkSpread(press.GrowthUm, press.GrowthOnBaseUm, press.GrowthNoiseUm, scale, noise, false, 0);
        var plane = new BytePlane(2, 2);
        plane.Pixels.AsSpan().Fill((byte)Math.Round(255 * tone));
        var plate = new Plate(
            "tone",
            PlatePurpose.Process,
            Inks.DyeInks.All[0],
            Inks.Mesh.None,
            screen,
            plane,
            null,
            plane,
            1,
            false
        );
        var kept = new BitPlane(64 * Words, Rows + 2 * spread.HaloRows);
        new ScreenedFilm(plate, array, kept.Width, kept.Height).ReadRows(0, kept);
        var (printed, grown, onBase) = (
            new BitPlane(kept.Width, Rows),
            new BitPlane(kept.Width, Rows + 2),
            new BitPlane(kept.Width, Rows + 2)
        );
        spread.Spread(kept, null, printed, grown, onBase, new DiscRows(), 0, 1);
        long ink = 0;
        // The outer words lack what reaches in from beyond.
        for (var y = 0; y < Rows; y++)
            ink += BitRows.CountInk(printed.Row(y)[1..(Words - 1)]);
        return ink / (64.0 * (Words - 2) * Rows);
    }
}
