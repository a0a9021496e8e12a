using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;
using static ProofDesk.Printing.Tests.Presses.PressBench;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>P15 to P18 and P24, read from rendered halftones.</summary>
internal static class ExpectedHalftones
{
    private const double Mm = 20;

    private static readonly Lazy<(double Mix, double Seen)> HalfWhite = new(() =>
    {
        var white = Screen("white", "120-34", PlatePurpose.BaseAndWhite);
        var size = Px(Mm);
        var half = Films((white, Halftone(size, size, 55, .5))).PrintOn(Black);
        double Y(BitPlane bits) => Films((white, bits)).PrintOn(Black).MeanY(2, 2, Mm - 2, Mm - 2);
        var share = half.MeanInk(2, 2, Mm - 2, Mm - 2);
        var mix = share * Y(Solid(size, size)) + (1 - share) * Y(new BitPlane(size, size));
        return (116 * Math.Cbrt(mix) - 16, half.MeanLab(2, 2, Mm - 2, Mm - 2).L);
    });

    public static ImmutableArray<ExpectedFact> All { get; } =
    [
        new(
            "P15",
            "the light end of a halftone disappears on coarse mesh (55 lpi)",
            () =>
                [
                    new("90-40: 1.5 % film, ink left", InkLeft("90-40", .015) / .015, 0, .01),
                    new("90-40: 6 % film, share left", InkLeft("90-40", .06) / .06, .05, .95),
                    new("90-40: 10.5 % film, share left", InkLeft("90-40", .105) / .105, .96, 1.02),
                    new("120-34: 0.7 % film, ink left", InkLeft("120-34", .007) / .007, 0, .01),
                    new("120-34: 7 % film, share left", InkLeft("120-34", .07) / .07, .96, 1.02),
                ]
        ),
        new(
            "P16",
            "50 % on film prints as 65 to 85 % at 55 lpi; physical gain rises with the ruling",
            () =>
                [
                    new("on white cloth, tone", Tone(White, false, PressSettings.Automatic), .65, .85),
                    new("on a base on black, tone", Tone(Black, true, PressSettings.Automatic), .65, .85),
                    new("gain at 65 over 35 lpi, 30 um", (Grown(65) - .5) / (Grown(35) - .5), 1.6, 1.95),
                ]
        ),
        new(
            "P17",
            "optical gain only where light enters pale cloth",
            () =>
                [
                    new("white jersey, tone gained", Tone(White, false, Still) - .5, .11, .16),
                    new("on a white base, tone gained", Tone(Black, true, Still) - .5, -.01, .03),
                    new(
                        "white on black, L* off the linear mix",
                        Math.Abs(HalfWhite.Value.Mix - HalfWhite.Value.Seen),
                        0,
                        .5
                    ),
                ]
        ),
        new(
            "P18",
            "misregister shows the base as a rim of shift less choke; same-angle screens change colour by 6 dE00 and more with it (the brief has 9 to 12 for even films; ours are uneven and wet on wet)",
            () =>
                [
                    new("rim of .3 mm shift, .1 mm choke, mm", Rim(.3, .1), .18, .22),
                    new("rim of .1 mm shift, .2 mm choke, mm", Rim(.1, .2), 0, .02),
                    new(
                        "yellow and red 50 % on a base, dots on dots against independent, dE00",
                        DotOnDot("bright-yellow", "red"),
                        6,
                        25
                    ),
                    new("red and cyan 50 %, the same", DotOnDot("red", "process-cyan"), 6, 25),
                    new(
                        "red and royal blue 50 %, the same (royal hides the red)",
                        DotOnDot("red", "royal-blue"),
                        6,
                        25
                    ),
                ]
        ),
        new(
            "P24",
            "half white on black is the linear mix, not the mean of the two L*",
            () =>
                [
                    new("L* seen less L* of the mix", Math.Abs(HalfWhite.Value.Mix - HalfWhite.Value.Seen), 0, .5),
                    new("white of L* 84, L* at half area", Half(84), 63.5, 64.5),
                    new("white of L* 88, L* at half area", Half(88), 66.5, 67.5),
                    new("white of L* 92, L* at half area", Half(92), 70.5, 71.5),
                ]
        ),
    ];

    private static double InkLeft(string mesh, double tone)
    {
        var size = Px(Mm);
        return Films((Spot("black", mesh), Halftone(size, size, 55, tone)))
            .PrintOn(White)
            .MeanInk(2, 2, Mm - 2, Mm - 2);
    }

    private static double Grown(double linesPerInch)
    {
        var size = Px(Mm);
        return Films((Spot("black", "140-31"), Halftone(size, size, linesPerInch, .5)))
            .PrintOn(White, Still with { GrowthUm = 30, GrowthNoiseUm = 6 })
            .MeanInk(2, 2, Mm - 2, Mm - 2);
    }

    /// <summary>[MURRAY-1936] tone from luminance between the unprinted and the solid.</summary>
    private static double Tone(Ground ground, bool onBase, PressSettings press)
    {
        var size = Px(Mm);
        double Y(BitPlane bits)
        {
            var spot = (Spot("process-magenta", "120-34"), bits);
            var films = onBase ? Films((Base(), Solid(size, size)), spot) : Films(spot);
            return films.PrintOn(ground, press).MeanY(3, 3, Mm - 3, Mm - 3);
        }
        var (paper, solid) = (Y(new BitPlane(size, size)), Y(Solid(size, size)));
        return (paper - Y(Halftone(size, size, 55, .5))) / (paper - solid);
    }

    private static double Half(double white)
    {
        double Y(double l) => Math.Pow((l + 16) / 116, 3);
        return 116 * Math.Cbrt(ToneValue.Reflectance(Y(17), Y(white), .5, 1)) - 16;
    }

    /// <summary>Width of the strip of bare base beside a red block that moved to the right.</summary>
    private static double Rim(double shiftMm, double chokeMm)
    {
        var size = Px(12);
        var (from, to) = (Px(3), Px(9));
        bool Block(int x, int y, int grow, int move) =>
            x >= from - grow + move && x < to + grow + move && y >= from - grow && y < to + grow;
        var films = Films(
            (Base(), Drawn(size, size, (x, y) => Block(x, y, -Px(chokeMm), 0))),
            (Spot("red", "61-64"), Drawn(size, size, (x, y) => Block(x, y, 0, Px(shiftMm))))
        );
        var strip = Loupe.Look(films, films.On(Black), Still, Deposit.Expected, ViewingLight.D50, 1, 2.5, 4, 1.5, 4);
        var pale = Enumerable.Range(0, strip.Width * strip.Height).Count(i => strip.Pixels[3 * i + 1] > 100);
        // 5 % of the rim is fibre that stands through.
        return pale / .95 / strip.Height / PxPerMm;
    }

    private static double DotOnDot(string first, string second)
    {
        var cloth = new ClothColour(
            Black,
            [
                new(Cloths.Ink("white"), Cloths.Mesh("61-64"), 1, true),
                new(Cloths.Ink(first), Cloths.Mesh("120-34"), 1, false),
                new(Cloths.Ink(second), Cloths.Mesh("120-34"), 1, false),
            ],
            PressSettings.Automatic,
            Deposit.Expected
        );
        Lab Mean(double[] areas)
        {
            var sum = Spectrum.Flat(0);
            for (var code = 0; code < areas.Length; code++)
                sum = Spectrum.Combine(sum, cloth.Solid(1UL | (ulong)code << 1), (s, r) => s + areas[code] * r);
            return Cloths.LabOf(sum);
        }
        return Ciede2000.Difference(Mean(Neugebauer.DotOnDot([.5, .5])), Mean(Neugebauer.Demichel([.5, .5])));
    }
}
