using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Inverse;

/// <summary>Flat patches separated, screened and printed by the press simulation, against what the gamut mapping asked for.</summary>
internal static class RoundTrip
{
    public const double PatchMm = 9;

    /// <summary>Tints a print of any of the grounds can reach: pale, middle and dark, grey and coloured.</summary>
    public static ImmutableArray<(double R, double G, double B)> Tints { get; } =
    [
        (0.5, 0.5, 0.5),
        (0.75, 0.75, 0.75),
        (0.3, 0.3, 0.32),
        (0.7, 0.5, 0.42),
        (0.45, 0.55, 0.4),
        (0.42, 0.48, 0.6),
        (0.85, 0.75, 0.5),
        (0.55, 0.35, 0.35),
    ];

    /// <summary>Mean colour of each patch as it prints, Lab under the proof's light.</summary>
    public static ImmutableArray<Lab> Print(
        PrintMethod method,
        Ground ground,
        SpotSettings settings,
        ImmutableArray<(double R, double G, double B)> tints,
        ulong seed = 1
    )
    {
        const int Px = 36;
        var art = PaintedArt.Of(
            Px * tints.Length,
            Px,
            PatchMm * tints.Length,
            (x, _) =>
            {
                var (r, g, b) = tints[(int)(x * tints.Length)];
                return (r, g, b, 1);
            }
        );
        // Patches are flat; what is looked at here is their tone.
        settings = settings with
        {
            FlatAreas = FlatAreas.Toned,
        };
        var separation = method.Separate(art, method, [ground], settings) with { Press = method.Press };
        var films = FilmMaker.Screen(separation, OutputDevice.Fallback);
        var print = PrintSimulator.Print(
            films,
            separation.Grounds[0],
            settings.Press,
            Deposit.Expected,
            TonalGround.Light,
            seed
        );
        return [.. tints.Select((_, i) => Mean(print.Print, print.MarginMm, i))];
    }

    private static Lab Mean(RgbPicture picture, double marginMm, int patch)
    {
        const double Edge = 1.5;
        double r = 0,
            g = 0,
            b = 0;
        var count = 0;
        for (var y = Px(marginMm + Edge); y < Px(marginMm + PatchMm - Edge); y++)
        for (var x = Px(marginMm + patch * PatchMm + Edge); x < Px(marginMm + (patch + 1) * PatchMm - Edge); x++)
        {
            var row = picture.Row(y);
            r += Srgb.Decode(row[3 * x] / 255.0);
            g += Srgb.Decode(row[3 * x + 1] / 255.0);
            b += Srgb.Decode(row[3 * x + 2] / 255.0);
            count++;
        }
        var mean = new LinearRgb(r / count, g / count, b / count);
        return CieLab.FromXyz(Srgb.ToXyz(mean, TonalGround.Light), TonalGround.Light);

        int Px(double mm) => (int)(mm * picture.PixelsPerMm);
    }
}
