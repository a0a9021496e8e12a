using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Inverse;
using ProofDesk.Printing.Tests.Separations;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Methods;

public sealed class DirectToGarmentTests
{
    private static readonly PrintMethod Method = PrintMethods.Find("direct-to-garment")!;
    private static readonly Ink White = InkLibrary.Find("jet-white")!;

    private static Lab Solid(Ground ground, Deposit deposit, params ImmutableArray<Ink> inks)
    {
        var cloth = Method.Press.On(
            ground,
            [.. inks.Select(ink => new InkPass(ink, Mesh.None, 1, false))],
            Method.Press.Settings(PressSettings.Automatic),
            deposit
        );
        return cloth.SolidLab((1UL << inks.Length) - 1, ViewingLight.D50);
    }

    // physics 3.6: 60 to 120 ml/m2 of white give L* 82 to 89; ours is 100.
    [Fact]
    public void White_on_black_reads_between_82_and_89()
    {
        Assert.Equal(100, White.JetMlPerM2);
        Assert.InRange(Solid(TestGrounds.Black, Deposit.Expected, White).L, 82, 89);
    }

    // Common practice: it needs white under it on dark cloth.
    [Theory]
    [InlineData("jet-cyan")]
    [InlineData("jet-magenta")]
    [InlineData("jet-yellow")]
    public void Colours_vanish_on_black_without_white(string id)
    {
        var ink = InkLibrary.Find(id)!;
        var without = Solid(TestGrounds.Black, Deposit.Expected, ink);
        var with = Solid(TestGrounds.Black, Deposit.Expected, White, ink);

        // Yellow is a dull olive, as in screen print (physics P4).
        Assert.InRange(without.L, 5, 45);
        Assert.True(with.Chroma > 1.8 * without.Chroma, $"{with.Chroma:0} against {without.Chroma:0}");
    }

    [Fact]
    public void White_runs_on_black_and_there_is_none_on_white_cloth()
    {
        Assert.Equal("White base", Separate(TestGrounds.Black).Plates[0].Name);
        Assert.DoesNotContain(Separate(TestGrounds.White).Plates, p => p.Ink.Role == InkRole.White);
    }

    // The amount of white is computed: all of it under a highlight, none where the picture is black.
    [Fact]
    public void White_is_as_much_as_the_colour_needs()
    {
        var table = TonalSeparator.Solve(DirectToGarment.Job(Method, [TestGrounds.Black], new()));
        var coverages = new float[table.Plates];
        double WhiteAt(double grey)
        {
            table.Coverages(Srgb.Decode(grey, grey, grey), coverages);
            return coverages[0];
        }
        Assert.InRange(WhiteAt(0), 0, 0.02);
        Assert.InRange(WhiteAt(1), 0.95, 1);
        Assert.True(WhiteAt(0.3) < WhiteAt(0.6) && WhiteAt(0.6) < WhiteAt(1));
    }

    [Fact]
    public void Flat_tints_print_as_wanted()
    {
        foreach (var ground in new[] { TestGrounds.Black, TestGrounds.White })
        {
            var gamut = TonalGround.Of(DirectToGarment.Job(Method, [ground], new()), 0).Gamut;
            var printed = RoundTrip.Print(Method, ground, new(), RoundTrip.Tints);
            var off = RoundTrip
                .Tints.Select(
                    (t, i) =>
                        Ciede2000.Difference(printed[i], TonalFit.LabOf(gamut.Map(Srgb.Decode(t.R, t.G, t.B)).Wanted))
                )
                .ToArray();
            Assert.True(
                off.Average() < 3,
                $"{ground.Id} mean {off.Average():0.00}: {string.Join(" ", off.Select(d => d.ToString("0.0")))}"
            );
        }
    }

    // White is one carriage, the colours another.
    [Fact]
    public void Colours_keep_register_with_each_other_and_not_with_the_white()
    {
        var separation = Separate(TestGrounds.Black);
        var carriages = Enumerable.Range(0, 5).Select(i => Method.Press.RegisterOf(separation, i)).ToArray();

        Assert.Equal([0, 1, 1, 1, 1], carriages.Select(c => c!.Value));
    }

    [Fact]
    public void Nothing_is_metered_by_a_mesh_and_grams_follow_the_drops()
    {
        var separation = Separate(TestGrounds.Black);

        Assert.All(separation.Plates, p => Assert.Equal("none", p.Mesh.Label));
        // 100 cm2 at 100 ml/m2 are 1 ml, at 1.15 g/cm3.
        Assert.Equal(1.15, Method.Press.Grams(100, new(White, Mesh.None, 1, false)), 6);
        Assert.Equal(0.126, Method.Press.Grams(100, new(InkLibrary.Find("jet-cyan")!, Mesh.None, 1, false)), 6);
    }

    [Fact]
    public void The_print_file_has_a_channel_for_each_ink_with_the_coverage_that_was_bound()
    {
        var request = new ProofRequest(
            PaintedArt.Dusk(150, 120, 30).Artwork,
            Placement.Usual(Place.Front, 30),
            Method,
            [TestGrounds.Black]
        )
        {
            Background = BackgroundChoice.Print,
        };
        var films = ProofMaker.MakeFilms(request);
        var channels = DirectToGarment.Channels(films);

        Assert.Equal(["white", "cyan", "magenta", "yellow", "black"], channels.Channels.Select(c => c.Name));
        for (var i = 0; i < films.Plates.Length; i++)
        {
            var bound = FilmMeasure.Of(films.Plates[i], films.Device).CoveragePercent;
            var handed = channels.Channels[i].Plane.Pixels.Average(v => v / 2.55);
            Assert.Equal(bound, handed, 0.5);
        }
        Assert.Equal(360 / 25.4, channels.PixelsPerMm, 6);
    }

    [Fact]
    public void Pretreatment_is_asked_for_and_polyester_is_warned_of()
    {
        var poly = TestGrounds.White with
        {
            Colour = TestGrounds.White.Colour with { Name = "White poly", Fibres = [new(FibreKind.Polyester, 1)] },
        };
        var findings = Method.Separate(PaintedArt.Dusk(), Method, [poly], new()).Findings;

        Assert.Equal(
            "the cloth is pretreated before it is printed: without it white sinks in and colours wash out",
            findings.Single(f => f.Code == "pretreat").Message
        );
        Assert.Equal(
            "white poly is 100 % polyester: pigment ink holds on cotton, 50 % of it or more is usual",
            findings.Single(f => f.Code == "jet-on-polyester").Message
        );
    }

    [Fact]
    public void Dark_cloth_without_white_is_warned_of()
    {
        var findings = Method
            .Separate(PaintedArt.Dusk(), Method, [TestGrounds.Red], new() { Base = BaseChoice.None })
            .Findings;

        Assert.Equal(
            "no white runs on red: jetted colours hide nothing and take the cloth's colour",
            findings.Single(f => f.Code == "no-white-below").Message
        );
    }

    private static Separation Separate(Ground ground) => Method.Separate(PaintedArt.Dusk(), Method, [ground], new());
}
