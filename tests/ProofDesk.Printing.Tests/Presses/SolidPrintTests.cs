using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;
using static ProofDesk.Printing.Tests.Presses.PressBench;

namespace ProofDesk.Printing.Tests.Presses;

public class SolidPrintTests
{
    // Shop-practice 6: first pass over a solid patch at 61-64 mesh, mottled L* 76-84, bound 70-86.
    [Fact]
    public void One_pass_of_white_on_black_is_greyish()
    {
        var films = Films((Screen("white", "61-64", PlatePurpose.BaseAndWhite), Solid(Px(20), Px(20))));

        var lab = films.PrintOn(Black).MeanLab(2, 2, 18, 18);

        Assert.InRange(lab.L, 76, 84);
        Assert.InRange(lab.B, -3, 0);
    }

    // Shop-practice 6: print-flash-print 86-92.
    [Fact]
    public void Print_flash_print_of_white_on_black_is_white()
    {
        var white = Screen("white", "61-64", PlatePurpose.BaseAndWhite, flashAfter: true);
        var films = Films(
            (white, Solid(Px(20), Px(20))),
            (white with { Name = "again", Purpose = PlatePurpose.HighlightWhite }, Solid(Px(20), Px(20)))
        );

        var lab = films.PrintOn(Black).MeanLab(2, 2, 18, 18);

        Assert.InRange(lab.L, 86, 92);
    }

    [Theory]
    [InlineData("black", "white")]
    [InlineData("black", "bright-yellow")]
    [InlineData("white", "red")]
    [InlineData("red", "white")]
    [InlineData("heather", "royal-blue")]
    public void The_mean_of_a_solid_is_what_its_stack_measures(string ground, string ink)
    {
        // 40 mm: two repeats of the knit, so that what is left of the mottle does not matter.
        var films = Films((Spot(ink), Solid(Px(40), Px(40))));
        var cloth = Of(ground);
        var expected = ClothColourOf(films, cloth, Deposit.Expected).Solid(1);

        var printed = films.PrintOn(cloth);

        // Held against the computed spectrum after the same trip through sRGB, because strong inks leave its gamut.
        var shown = Srgb.ToLab(
            GamutMapping.IntoSrgb(Srgb.FromXyz(Tristimulus.Of(expected, ViewingLight.D50), ViewingLight.D50))
        );
        var seen = printed.MeanLab(1, 1, 39, 39);
        Assert.True(Ciede2000.Difference(shown, seen) < 0.8, $"stack {shown}, picture {seen}");
    }

    [Theory]
    [InlineData("white")]
    [InlineData("heather")]
    [InlineData("red")]
    [InlineData("black")]
    public void Zero_ink_leaves_the_cloth_unchanged(string ground)
    {
        var cloth = Of(ground);
        var blank = Films((Spot("red"), new BitPlane(Px(40), Px(30)))).PrintOn(cloth, PressSettings.Automatic);
        var noScreens = Films((Spot("red"), new BitPlane(Px(40), Px(30))))
            .PrintOn(cloth, PressSettings.Automatic, afterScreens: 0);

        Assert.Equal(noScreens.Print.Width, blank.Print.Width);
        Assert.True(noScreens.Print.Pixels.AsSpan().SequenceEqual(blank.Print.Pixels));
        Assert.All(blank.InkMask.Pixels, share => Assert.Equal(0, share));
        var lab = blank.MeanLab(0, 0, 40, 30);
        var own = CieLab.FromXyz(Tristimulus.Of(cloth.Colour.Reflectance, ViewingLight.D50), ViewingLight.D50);
        Assert.True(Ciede2000.Difference(own, lab) < 0.6, $"cloth {own}, picture {lab}");
    }

    // One ink: more of it by deposit or by tone. (A second, paler ink may well lighten a dark one below it.)
    [Theory]
    [InlineData("bright-yellow")]
    [InlineData("process-magenta")]
    [InlineData("royal-blue")]
    [InlineData("black")]
    public void More_ink_never_lightens_white_cloth(string ink)
    {
        double Y(BitPlane bits, Deposit deposit = Deposit.Expected) =>
            Films((Spot(ink), bits)).PrintOn(White, deposit: deposit).MeanY(1, 1, 11, 11);
        var size = Px(12);

        double[] luminances =
        [
            Y(new BitPlane(size, size)),
            Y(Halftone(size, size, 45, 0.25)),
            Y(Halftone(size, size, 45, 0.5)),
            Y(Halftone(size, size, 45, 0.75)),
            Y(Solid(size, size), Deposit.Light),
            Y(Solid(size, size)),
            Y(Solid(size, size), Deposit.Heavy),
        ];

        for (var i = 1; i < luminances.Length; i++)
            Assert.True(luminances[i] <= luminances[i - 1] + 1e-4, string.Join(", ", luminances));
    }

    [Fact]
    public void A_heavy_deposit_of_white_is_lighter_on_black_than_a_light_one()
    {
        var films = Films((Screen("white", "61-64", PlatePurpose.BaseAndWhite), Solid(Px(15), Px(15))));

        var light = films.PrintOn(Black, deposit: Deposit.Light).MeanLab(2, 2, 13, 13).L;
        var expected = films.PrintOn(Black).MeanLab(2, 2, 13, 13).L;
        var heavy = films.PrintOn(Black, deposit: Deposit.Heavy).MeanLab(2, 2, 13, 13).L;

        Assert.True(light + 0.5 < expected && expected + 0.5 < heavy, $"{light} {expected} {heavy}");
    }

    [Fact]
    public void Expected_solids_are_what_the_picture_shows()
    {
        var films = Films((Base(), Solid(Px(40), Px(40))), (Spot("mid-grey"), Solid(Px(40), Px(40))));

        var solids = ExpectedSolids.Of(films.Separation, films.On(Black), Still);

        Assert.Equal([0, 1], solids.Select(s => s.Run));
        var afterBase = films.PrintOn(Black, afterScreens: 1).MeanLab(1, 1, 39, 39);
        var afterBoth = films.PrintOn(Black).MeanLab(1, 1, 39, 39);
        Assert.True(Ciede2000.Difference(solids[0].Expected, afterBase) < 0.5, $"{solids[0].Expected} {afterBase}");
        Assert.True(Ciede2000.Difference(solids[1].Expected, afterBoth) < 0.5, $"{solids[1].Expected} {afterBoth}");
    }

    private static Ground Of(string id) =>
        id switch
        {
            "black" => Black,
            "white" => White,
            "red" => Red,
            _ => Heather,
        };

    private static ClothColour ClothColourOf(
        ProofDesk.Printing.Screening.Films films,
        Ground ground,
        Deposit deposit
    ) => new(ground, ClothColour.RunsOf(films.Separation, films.On(ground)), Still, deposit);
}
