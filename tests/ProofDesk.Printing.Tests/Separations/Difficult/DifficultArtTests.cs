using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Separations.Inverse;
using ProofDesk.Printing.Tests.Separations.Mixed;

namespace ProofDesk.Printing.Tests.Separations.Difficult;

/// <summary>What is said of art that cannot be separated well: the code, the number, the limit and the next step.</summary>
public sealed class DifficultArtTests
{
    private static Separation Separate(string method, SizedArt art, Ground ground) =>
        PrintMethods.Find(method)!.Separate(art, PrintMethods.Find(method)!, [ground], new());

    private static Finding Said(Separation separation, string code) =>
        Assert.Single(separation.Findings, f => f.Code == code);

    [Fact]
    public void A_colour_out_of_reach_is_named_with_the_nearest_print_and_the_place()
    {
        var art = PaintedArt.Of(
            300,
            200,
            100,
            (x, y) =>
            {
                var glow = Math.Clamp(1.5 - 5 * Math.Sqrt(Math.Pow(x - 0.3, 2) + Math.Pow(y - 0.5, 2)), 0, 1);
                return (0.22 * glow + 0.1 * y, glow, 0.08 * glow + 0.1 * x, 1);
            }
        );

        var said = Separate("simulated-process", art, TestGrounds.Black).Findings.First(f => f.Code == "out-of-reach");

        Assert.Matches(
            "^neon green \\(#[0-9a-f]{6}\\) is out of reach on black: the nearest print is #[0-9a-f]{6}, [0-9]+ dE00 away, 10 is seen at once; it stands on [0-9]+ % of the art, most of it round (29|30|31) mm from the left and (32|33|34) mm from the top$",
            said.Message
        );
        Assert.Equal(FindingWeight.Warning, said.Weight);
        Assert.InRange(said.Measured!.Value, 10, 40);
        Assert.Equal(10, said.Limit);
        Assert.Equal("dE00", said.Unit);
    }

    [Fact]
    public void Colours_within_reach_are_not_named()
    {
        var art = PaintedArt.Of(120, 80, 40, (x, y) => (0.35 + 0.2 * x, 0.4 + 0.1 * y, 0.35 + 0.1 * x * y, 1));

        Assert.DoesNotContain(
            Separate("simulated-process", art, TestGrounds.Black).Findings,
            f => f.Code == "out-of-reach"
        );
    }

    [Fact]
    public void A_painting_in_spot_inks_is_sent_to_the_methods_that_print_it()
    {
        var said = Said(Separate("plastisol", MixedPicture.Dusk().Noise(3).Sized(), TestGrounds.Black), "painted-art");

        Assert.Matches(
            "^the art is painted: [0-9]+ % of it is none of its [0-9]+ main colours; plastisol prints flat colours and fades between two of them$",
            said.Message
        );
        Assert.Equal(
            "print it with simulated-process, whose inks are chosen for the picture, or with direct-to-garment; or set the number of inks and judge the proof",
            said.NextStep
        );
    }

    [Fact]
    public void A_fade_between_two_colours_is_not_painted()
    {
        var art = new TestArt(600, 300)
            .Paint((x, _) => (x < 300 ? "#0057b8" : "#f2c230", 1))
            .Paint((x, _) => ("#f2c230", Math.Clamp((x - 100) / 400.0, 0, 1)));

        Assert.DoesNotContain(
            Separate("plastisol", art.Sized(60), TestGrounds.White).Findings,
            f => f.Code is "painted-art" or "many-colours"
        );
    }

    [Fact]
    public void Flat_art_in_simulated_process_is_sent_to_a_spot_method()
    {
        var art = MixedPicture.Nothing().Field("#c8102e", 5, 5, 40, 40).Letter("#f2c230", "87", 10, 10, 20).Sized();

        var said = Said(Separate("simulated-process", art, TestGrounds.Black), "flat-art");

        Assert.Equal(
            "100 % of the art stands flat in 2 colours: there is nothing to paint, and a spot method prints it without dots and with no more screens than colours and a base",
            said.Message
        );
        Assert.Equal("print it with plastisol or another spot method", said.NextStep);
    }

    [Fact]
    public void Flat_art_in_many_colours_is_not_called_painted()
    {
        var art = new TestArt(600, 400);
        for (var i = 0; i < 16; i++)
            art.Rectangle(
                $"#{60 + 60 * (i % 4):x2}{40 + 70 * (i / 4):x2}{90 + 40 * (i % 3):x2}",
                20 + 140 * (i % 4),
                20 + 90 * (i / 4),
                140 + 140 * (i % 4),
                90 + 90 * (i / 4)
            );

        var separation = Separate("plastisol", art.Sized(60), TestGrounds.White);

        Assert.Equal(
            "the art has 12 flat colours or more, each of them a screen",
            Said(separation, "many-colours").Message
        );
        Assert.DoesNotContain(separation.Findings, f => f.Code == "painted-art");
    }

    [Theory]
    [InlineData("plastisol", "White")]
    [InlineData("simulated-process", "the art")]
    public void Small_type_is_measured_in_points(string method, string what)
    {
        var art = MixedPicture.Nothing();
        for (var line = 0; line < 6; line++)
            art.Letter("#ffffff", "ALL RIGHTS RESERVED 2026", 4, 4 + 2 * line, 0.9);
        art.Field("#ffffff", 4, 30, 50, 40);

        var said = Said(Separate(method, art.Sized(), TestGrounds.Black), "small-type");

        Assert.Matches(
            $"^\"?{what}\"? has about 1[0-9]{{2}} letters of 0.9 mm, type of about (4.9|5.0|5.1) pt: 8 pt reads surely on cloth, 10 pt where it is left open$",
            said.Message
        );
        Assert.Equal("set it in 8 pt or more, place the print 1.6 times as wide, or leave it out", said.NextStep);
    }

    [Fact]
    public void White_hairlines_on_black_cloth_are_thin_lines()
    {
        var art = new TestArt(1200, 600).Rectangle("#ffffff", 20, 400, 1180, 580);
        for (var i = 0; i < 10; i++)
            art.Rectangle("#ffffff", 20, 20 + 30 * i, 1180, 22 + 30 * i);

        var said = Said(Separate("plastisol", art.Sized(116), TestGrounds.Black), "thin-lines");

        Assert.Matches(
            "^the thinnest lines of \"White\" are 0.20 mm wide, 0.25 mm prints surely on a 77-55 mesh: at best it holds them; 11(58|59|60) mm of lines are too thin$",
            said.Message
        );
        Assert.Equal(
            "draw them 0.25 mm wide or wider, 3 px of this art, or place the print 145 mm wide or wider",
            said.NextStep
        );
    }
}
