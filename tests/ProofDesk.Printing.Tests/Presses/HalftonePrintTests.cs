using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;
using static ProofDesk.Printing.Tests.Presses.PressBench;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>Facts P15 to P18 and P24 of the physics brief, section 5, read from rendered halftones.</summary>
public class HalftonePrintTests
{
    private const double Mm = 20;

    // P15: at 55 lpi tones below 8 % are lost on 90-40 and below 4-5 % on 120-34 (+-2 %); certainly below w: 1.9 and 0.9 %.
    [Theory]
    [InlineData("90-40", 0.015, 0.105)]
    [InlineData("120-34", 0.007, 0.070)]
    public void The_light_end_of_a_halftone_disappears_as_the_mesh_allows(string mesh, double lost, double held)
    {
        Assert.Equal(0, InkOf(mesh, lost), 1e-4);
        var middle = (lost + held) / 2;
        Assert.InRange(InkOf(mesh, middle), 0.05 * middle, 0.95 * middle);
        Assert.InRange(InkOf(mesh, held), 0.97 * held, 1.015 * held);
    }

    // P16: 50 % on film prints as 65 to 85 % at 55 lpi, physical and optical gain together (Murray-Davies on luminance).
    [Theory]
    [InlineData("white", false)]
    [InlineData("black", true)]
    public void Fifty_percent_on_film_prints_as_65_to_85(string ground, bool onBase)
    {
        var tone = ToneOf(
            ground == "white" ? White : Black,
            onBase,
            "process-magenta",
            55,
            0.5,
            PressSettings.Automatic
        );

        Assert.InRange(tone, 0.65, 0.85);
    }

    // P16: tone gain rises with the ruling, 35 lpi : 65 lpi about 1 : 1.75 (11.0 : 19.4 at g = 30 um, physics 1.15).
    [Fact]
    public void Physical_gain_rises_with_the_ruling()
    {
        var press = Still with { GrowthUm = 30, GrowthNoiseUm = 6 };

        var coarse = GrownInk(35, press) - 0.5;
        var fine = GrownInk(65, press) - 0.5;

        Assert.InRange(coarse, 0.11 - 0.015, 0.11 + 0.015);
        Assert.InRange(fine, 0.194 - 0.02, 0.194 + 0.02);
        Assert.InRange(fine / coarse, 1.6, 1.95);
    }

    // P17: +13 to +16 % at 55 lpi on white jersey with transparent ink.
    [Fact]
    public void Light_spreads_in_white_jersey_under_transparent_ink()
    {
        var gain = ToneOf(White, false, "process-magenta", 55, 0.5, Still) - 0.5;

        Assert.InRange(gain, 0.11, 0.16);
    }

    // P17: below 3 % on white underbase.
    [Fact]
    public void Light_hardly_spreads_on_a_white_base()
    {
        var gain = ToneOf(Black, true, "process-magenta", 55, 0.5, Still) - 0.5;

        Assert.InRange(gain, -0.005, 0.03);
    }

    // P17: none on black cloth. P24: 50 % white on black is the linear mix of both, not the mean of their L*.
    [Theory]
    [InlineData(55)]
    [InlineData(20)]
    public void Half_white_on_black_is_the_linear_mix(double linesPerInch)
    {
        var white = Screen("white", "120-34", PlatePurpose.BaseAndWhite);
        var size = Px(Mm);
        var half = Films((white, Halftone(size, size, linesPerInch, 0.5))).PrintOn(Black);
        var full = Films((white, Solid(size, size))).PrintOn(Black);
        var none = Films((white, new BitPlane(size, size))).PrintOn(Black);

        // The region cuts through dots, so the true area is read from the same pixels.
        var share = half.MeanInk(2, 2, Mm - 2, Mm - 2);
        Assert.Equal(0.5, share, 0.015);
        var mix = share * full.MeanY(2, 2, Mm - 2, Mm - 2) + (1 - share) * none.MeanY(2, 2, Mm - 2, Mm - 2);

        Assert.Equal(LightnessOf(mix), half.MeanLab(2, 2, Mm - 2, Mm - 2).L, 0.5);
    }

    // P18: a colour that covers its base exactly shows a pale rim as wide as the shift; a choke takes its width off it.
    [Theory]
    [InlineData(0.1, 0)]
    [InlineData(0.1, 0.05)]
    [InlineData(0.3, 0.1)]
    [InlineData(0.1, 0.2)]
    public void The_pale_rim_is_as_wide_as_shift_less_choke(double shiftMm, double chokeMm)
    {
        var size = Px(12);
        var (from, to) = (Px(3), Px(9));
        bool Block(int x, int y, int grow, int move) =>
            x >= from - grow + move && x < to + grow + move && y >= from - grow && y < to + grow;
        var films = Films(
            (Base(), Drawn(size, size, (x, y) => Block(x, y, -Px(chokeMm), 0))),
            (Spot("red", "61-64"), Drawn(size, size, (x, y) => Block(x, y, 0, Px(shiftMm))))
        );

        // Bare base is neutral and light, red is red, cloth is dark.
        var strip = Loupe.Look(
            films,
            films.On(Black),
            Still,
            Deposit.Expected,
            Imaging.Colour.ViewingLight.D50,
            1,
            2.5,
            4,
            1.5,
            4
        );
        var pale = 0;
        for (var i = 0; i < strip.Width * strip.Height; i++)
            if (strip.Pixels[3 * i + 1] > 100)
                pale++;
        // Some of the rim is fibre that stands through: 5 % of it is dark.
        var rimMm = pale / 0.95 / strip.Height / PxPerMm;

        Assert.Equal(Math.Max(0, shiftMm - chokeMm), rimMm, 0.02);
    }

    private static double InkOf(string mesh, double tone)
    {
        var size = Px(Mm);
        return Films((Spot("black", mesh), Halftone(size, size, 55, tone)))
            .PrintOn(White)
            .MeanInk(2, 2, Mm - 2, Mm - 2);
    }

    private static double GrownInk(double linesPerInch, PressSettings press)
    {
        var size = Px(Mm);
        var films = Films((Spot("black", "140-31"), Halftone(size, size, linesPerInch, 0.5)));
        return films.PrintOn(White, press).MeanInk(2, 2, Mm - 2, Mm - 2);
    }

    /// <summary>Murray-Davies tone from luminance between the unprinted and the solid.</summary>
    private static double ToneOf(
        Ground ground,
        bool onBase,
        string ink,
        double linesPerInch,
        double tone,
        PressSettings press
    )
    {
        var size = Px(Mm);
        double Y(BitPlane bits)
        {
            var spot = (Spot(ink, "120-34"), bits);
            var films = onBase ? Films((Base(), Solid(size, size)), spot) : Films(spot);
            return films.PrintOn(ground, press).MeanY(3, 3, Mm - 3, Mm - 3);
        }
        var (paper, solid) = (Y(new BitPlane(size, size)), Y(Solid(size, size)));
        return (paper - Y(Halftone(size, size, linesPerInch, tone))) / (paper - solid);
    }

    private static double LightnessOf(double y) => 116 * Math.Cbrt(y) - 16;
}
