using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Inverse;

public sealed class PrintGamutTests
{
    private static readonly TonalGround Black = TonalGround.Of(
        FourColourProcess.Job(PrintMethods.Find("four-colour-process")!, [TestGrounds.Black], new()),
        0
    );

    private static readonly TonalGround White = TonalGround.Of(
        FourColourProcess.Job(PrintMethods.Find("four-colour-process")!, [TestGrounds.White], new()),
        0
    );

    [Fact]
    public void Black_and_white_of_the_art_are_black_and_white_of_the_print()
    {
        Assert.InRange(Distance(Black.Gamut.Black, Black.Gamut.Map(new(0, 0, 0)).Wanted), 0, 1e-6);
        Assert.InRange(Distance(White.Gamut.White, White.Gamut.Map(new(1, 1, 1)).Wanted), 0, 1e-6);
        // physics P1, P2: a single base on black, finer than 61-64.
        Assert.InRange(TonalFit.LabOf(Black.Gamut.White).L, 72, 88);
        Assert.InRange(TonalFit.LabOf(Black.Gamut.Black).L, 10, 20);
    }

    [Fact]
    public void Hue_stays_and_chroma_never_grows()
    {
        for (var hue = 0; hue < 360; hue += 15)
        {
            var (sin, cos) = Math.SinCos(hue * Math.PI / 180);
            for (var chroma = 0.02; chroma < 0.3; chroma += 0.02)
            {
                var art = new Oklab(0.6, chroma * cos, chroma * sin);
                if (!GamutMapping.IsInSrgb(art.ToLinear()))
                    continue;
                var (wanted, ideal) = White.Gamut.Map(art.ToLinear());
                Assert.True(wanted.Chroma <= chroma + 0.02, $"hue {hue}, chroma {chroma:0.00}: {wanted.Chroma:0.000}");
                // Relative to the grey of the print, which is not quite neutral.
                var turned = Math.Atan2(ideal.B, ideal.A) - Math.Atan2(wanted.B, wanted.A);
                if (chroma > 0.1)
                    Assert.InRange(Math.Abs(Math.IEEERemainder(turned, 2 * Math.PI)), 0, 0.12);
            }
        }
    }

    // Order of chroma survives: what was more colourful stays more colourful, to the very edge.
    [Fact]
    public void The_knee_keeps_the_order_of_colours()
    {
        var last = -1.0;
        for (var chroma = 0.0; chroma < 0.25; chroma += 0.005)
        {
            var art = new Oklab(0.62, chroma * Math.Cos(0.5), chroma * Math.Sin(0.5));
            if (!GamutMapping.IsInSrgb(art.ToLinear()))
                break;
            var wanted = Black.Gamut.Map(art.ToLinear()).Wanted.Chroma;
            Assert.True(wanted > last - 1e-6, $"chroma {chroma:0.000}: {wanted:0.0000} after {last:0.0000}");
            last = wanted;
        }
    }

    private static double Distance(Oklab one, Oklab two) =>
        Math.Abs(one.L - two.L) + Math.Abs(one.A - two.A) + Math.Abs(one.B - two.B);
}
