using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Presses;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Methods;

/// <summary>All over on a belt: colours drift, garments lie a little off, seams stay bare, few colours (common practice).</summary>
public sealed class BeltTests
{
    private static PrintMethod Method => PrintMethods.Find("all-over-belt")!;

    private static Ground White { get; } = PlainTee.Of("White", ClothSpectra.UndyedCotton(), 0);

    // 0.3 to 0.8 mm one sigma, [PHYSICS] 3.5.
    [Fact]
    public void Colours_drift_against_each_other_far_more_than_on_a_carousel()
    {
        var belt = Method.Press.Settings(PressSettings.Automatic);

        var distances = new List<double>();
        for (var seed = 1UL; seed <= 200; seed++)
        {
            var (a, b) = (
                RegisterError.Draw(belt, Deposit.Expected, seed, 0),
                RegisterError.Draw(belt, Deposit.Expected, seed, 1)
            );
            distances.Add(a.DxMm - b.DxMm);
        }

        var sigma = Math.Sqrt(distances.Average(d => d * d)) / Math.Sqrt(2);
        Assert.InRange(sigma, 0.3, 0.8);
        Assert.True(sigma > 3 * RegisterError.Sigma(PressSettings.Automatic));
    }

    // 5 to 15 mm, [PHYSICS] 3.5.
    [Fact]
    public void A_garment_lies_up_to_fifteen_millimetres_from_its_place()
    {
        var far = Enumerable
            .Range(1, 200)
            .Select(seed => BeltPress.Placed((ulong)seed, Deposit.Expected))
            .Select(p => Math.Sqrt(p.DxMm * p.DxMm + p.DyMm * p.DyMm))
            .Order()
            .ToArray();

        Assert.InRange(far[100], 4, 10);
        Assert.InRange(far[^1], 12, 15.001);
        var (dx, dy) = BeltPress.Placed(7, Deposit.Heavy);
        Assert.Equal(15, Math.Sqrt(dx * dx + dy * dy), 1e-9);
    }

    [Fact]
    public void Seams_stay_bare_and_the_middle_of_the_cloth_does_not()
    {
        var proof = Make(TestArt.On(80, 80, "#c8102e"), 80);
        var print = proof.Grounds[0].Expected;
        // The armhole runs at 150 mm from the middle of a canvas of 580 mm.
        var middle = proof.Separation.WidthMm / 2;

        Assert.InRange(print.MeanInk(middle + 145, 60, middle + 155, 190), 0.3, 0.95);
        Assert.True(print.MeanInk(middle - 30, 120, middle + 30, 180) > 0.999);
    }

    [Fact]
    public void Four_colours_are_warned_about_and_seven_refused()
    {
        var four = Separate("#c8102e", "#103080", "#f0c000", "#107040");
        var seven = Separate("#c8102e", "#103080", "#f0c000", "#107040", "#f07000", "#502070", "#30b0c0");

        var warning = four.Single(f => f.Code == "many-colours-on-belt");
        Assert.Equal(
            "4 colours on a belt, where 4 are about the end: each drifts by 0.4 mm (one sigma) against the others",
            warning.Message
        );
        Assert.Equal("use fewer colours, or art in which colours need not meet", warning.NextStep);
        var refusal = seven.Single(f => f.Code == "too-many-colours-for-belt");
        Assert.Equal(FindingWeight.Refusal, refusal.Weight);
        Assert.Equal(
            "the art needs 7 colours and a belt prints 6 at the very most: every colour drifts against all others",
            refusal.Message
        );
        Assert.Equal("reduce it to 4 colours or fewer, or print it by sublimation or cut and sew", refusal.NextStep);
    }

    [Fact]
    public void Colours_that_touch_are_measured_and_colours_with_slack_are_not_named()
    {
        var touching = TestArt.On(100, 100, "#ffffff").Rectangle("#c8102e", 10, 10, 50, 90);
        touching.Rectangle("#103080", 50, 10, 90, 90);
        var apart = TestArt.On(100, 100, "#ffffff").Rectangle("#c8102e", 10, 10, 45, 90);
        apart.Rectangle("#103080", 55, 10, 90, 90);

        var found = Separation(touching, 100).Findings.Single(f => f.Code == "colours-touch");

        Assert.Equal(
            "colours touch along 0.1 m of the art, 0.0 m of it without overlap; a belt drifts by 0.4 mm (one sigma), so they part or overlap visibly",
            found.Message
        );
        Assert.Equal(
            "leave 1.5 mm of cloth between colours, or let the lighter run 1.5 mm under the darker",
            found.NextStep
        );
        Assert.DoesNotContain(Separation(apart, 100).Findings, f => f.Code == "colours-touch");
    }

    [Fact]
    public void A_base_is_refused() =>
        Assert.Equal(
            "all-over-belt has no base: nothing is flashed between the screens of a belt",
            BeltSeparator
                .Separate(TestArt.On(40, 40, "#c8102e").Sized(40), Method, [White], new() { Base = BaseChoice.White })
                .Findings.Single(f => f.Weight == FindingWeight.Refusal)
                .Message
        );

    [Fact]
    public void Art_that_ends_at_the_outline_lacks_two_inches()
    {
        var found = Make(TestArt.On(96, 72, "#c8102e"), 480).Findings.Single(f => f.Code == "too-little-bleed");

        Assert.Equal(
            "the art runs 0 mm past the outline of the front of Plain tee in L, 480 x 360 mm; 50 mm are needed: a garment lies within 5 to 15 mm of its place on the belt",
            found.Message
        );
    }

    [Fact]
    public void A_screen_print_on_top_lies_on_the_belt_print_and_keeps_its_own_films()
    {
        var under = Request(TestArt.On(80, 80, "#103080"), 80);
        var over = new ProofRequest(
            TestArt.On(60, 60, "#f0c000").Artwork(),
            new(Place.Front, 60, 0, 100),
            PrintMethods.Find("plastisol")!,
            [White]
        )
        {
            Background = BackgroundChoice.Print,
            Light = ViewingLight.D50,
            Device = OutputDevice.Fallback with { XDpi = 480, YDpi = 480 },
        };

        var alone = ProofMaker.Make(over, null, default);
        var both = ProofMaker.Make(over with { Under = under }, null, default);

        Assert.Equal(alone.Measures.Select(m => m.Sha256), both.Measures.Select(m => m.Sha256));
        var (yellow, blue) = (alone.Grounds[0].Expected, ProofMaker.Make(under, null, default).Grounds[0].Expected);
        var print = both.Grounds[0].Expected;
        // The canvas runs 50 mm past the garment; the print starts 60 mm below the collar seam.
        var middle = both.Request.Under is null ? 0 : 290.0;
        var beside = print.MeanLab(middle - 100, 150, middle - 70, 180);
        var on = print.MeanLab(middle - 30, 130, middle + 30, 190);
        Assert.True(Ciede2000.Difference(beside, blue.MeanLab(middle - 100, 150, middle - 70, 180)) < 1);
        // Yellow without a base on blue: not the yellow it is on white, and not the blue alone.
        Assert.True(Ciede2000.Difference(on, yellow.MeanLab(20, 20, 80, 80)) > 8);
        Assert.True(Ciede2000.Difference(on, beside) > 8);
        Assert.NotEqual(alone.Recipe.Sha256, both.Recipe.Sha256);
    }

    [Fact]
    public void White_of_the_print_on_top_is_printed_because_the_cloth_below_is_not_white_any_more()
    {
        var over = new ProofRequest(
            TestArt.On(60, 60, "#ffffff").Rectangle("#c8102e", 0, 0, 30, 60).Artwork(),
            new(Place.Front, 60, 0, 60),
            PrintMethods.Find("plastisol")!,
            [White]
        )
        {
            Background = BackgroundChoice.Print,
            Device = OutputDevice.Fallback with { XDpi = 480, YDpi = 480 },
        };

        var alone = ProofMaker.Make(over, null, default);
        var both = ProofMaker.Make(over with { Under = Request(TestArt.On(80, 80, "#103080"), 80) }, null, default);

        Assert.DoesNotContain(alone.Separation.Plates, p => p.Ink.Role == InkRole.White);
        Assert.Contains(both.Separation.Plates, p => p.Ink.Role == InkRole.White);
        // Right of the middle of the canvas: white plastisol on the blue belt print.
        Assert.True(both.Grounds[0].Expected.MeanLab(295, 120, 315, 160).L > 70);
    }

    [Fact]
    public void A_second_print_on_the_other_side_is_refused_in_words()
    {
        var over = new ProofRequest(
            TestArt.On(60, 60, "#f0c000").Artwork(),
            new(Place.Back, 60, 0, 100),
            PrintMethods.Find("plastisol")!,
            [White]
        )
        {
            Background = BackgroundChoice.Print,
            Under = Request(TestArt.On(80, 80, "#103080"), 80),
        };

        var refusal = Assert.Throws<ProofRefused>(() => ProofMaker.Make(over, null, default)).Findings.Single();

        Assert.Equal(
            "a second print on Plain tee must lie upright on the same side as the one below it",
            refusal.Message
        );
        Assert.Equal("choose front, back or a chest", refusal.NextStep);
    }

    [Fact]
    public void The_outline_of_the_garment_goes_with_the_films()
    {
        var proof = Make(TestArt.On(80, 80, "#c8102e"), 80);

        var file = Assert.IsType<ProductionText>(Method.Production(proof).Single());

        Assert.Equal("belt/front.svg", file.Name);
        Assert.Contains("plain-tee, L, front: garment dashed, edge of the art solid", file.Text);
        Assert.Equal(480, proof.Films.Device.XDpi);
    }

    private static ProofRequest Request(TestArt art, double widthMm) =>
        new(art.Artwork(), Placement.Usual(Place.Front, widthMm), Method, [White])
        {
            Background = BackgroundChoice.Print,
            Light = ViewingLight.D50,
        };

    private static Proof Make(TestArt art, double widthMm) => ProofMaker.Make(Request(art, widthMm), null, default);

    private static Separation Separation(TestArt art, double widthMm) =>
        BeltSeparator.Separate(art.Sized(widthMm), Method, [White], new());

    private static ImmutableArray<Finding> Separate(params string[] colours)
    {
        var art = TestArt.On(40 * colours.Length + 10, 60, "#ffffff");
        for (var i = 0; i < colours.Length; i++)
            art.Rectangle(colours[i], 10 + 40 * i, 10, 40 + 40 * i, 50);
        return Separation(art, 40 * colours.Length + 10).Findings;
    }
}
