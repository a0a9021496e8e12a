using System.Collections.Immutable;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Methods;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Costs;

/// <summary>What a run costs. Ranges of crossovers are common practice in the trade; the arithmetic is checked by hand.</summary>
public sealed class RunCostTests
{
    private static RateCard Card => RateCard.CommonPractice;

    /// <summary>A screen print of some colours over 400 cm2, half covered: a dark one has a base and a flash.</summary>
    private static CostedPrint Screens(int colours, bool dark, PressClass press = PressClass.Automatic) =>
        new(
            "plastisol",
            "Screen print, plastisol",
            MethodWork.Screens,
            press,
            colours + (dark ? 1 : 0),
            [new("tee", colours + (dark ? 1 : 0), dark ? 1 : 0, dark, 1.2 + (dark ? 1.6 : 0), 400)]
        );

    private static CostedPrint Jetted(bool dark) =>
        new(
            "direct-to-garment",
            "Direct to garment",
            new() { JetsGarments = true },
            PressClass.Automatic,
            0,
            [new("tee", 0, 0, dark, dark ? 6 : 1, 400)]
        );

    [Fact]
    public void A_run_costs_what_a_hand_calculation_says()
    {
        var cost = RunCost.Of(Screens(2, dark: true), Card, 50);

        // Three screens of 15 + 4 + 7.5 minutes at 40 an hour and 3 of material: 3 x 26.5 / 60 x 40 + 9.
        Assert.Equal(62, cost.SetUp, 1e-9);
        // 50 pieces at 400 an hour, 40 an hour.
        Assert.Equal(5, cost.Work, 1e-9);
        // 2.8 g, 1.6 times in real use, 18 a kilogram, 50 times; and a fifth of 200 g stays with each of three screens.
        Assert.Equal(50 * 0.0028 * 1.6 * 18 + 3 * 0.04 * 18, cost.Ink, 1e-9);
        // 5 each, 5 % less from 24 on.
        Assert.Equal(237.5, cost.Garments, 1e-9);
        // 3 % of 50 is 2 pieces: garment, a fiftieth of the work, ink of one.
        Assert.Equal(2 * (4.75 + 0.1 + 0.0028 * 1.6 * 18), cost.Spoilage, 1e-9);
        Assert.Equal((cost.SetUp + cost.Work + cost.Ink + cost.Garments + cost.Spoilage) / 50, cost.PerPiece, 1e-9);
    }

    [Fact]
    public void A_manual_press_takes_longer_with_every_colour_and_is_the_trades_at_both_ends()
    {
        Assert.Equal(60 / 115.0, Card.PressMinutes(PressClass.Manual, 1, 0), 1e-9);
        Assert.Equal(60 / 30.0, Card.PressMinutes(PressClass.Manual, 7, 1), 1e-9);
        Assert.True(Card.PressMinutes(PressClass.Manual, 3, 1) > Card.PressMinutes(PressClass.Manual, 3, 0));
    }

    [Theory]
    [InlineData(1, false)]
    [InlineData(3, false)]
    [InlineData(2, true)]
    [InlineData(6, true)]
    public void Every_colour_adds_a_screen_and_cost(int colours, bool dark)
    {
        var (fewer, more) = (Screens(colours, dark), Screens(colours + 1, dark));

        Assert.Equal(fewer.Screens + 1, more.Screens);
        foreach (var pieces in (int[])[1, 24, 500])
            Assert.True(RunCost.Of(more, Card, pieces).Total > RunCost.Of(fewer, Card, pieces).Total);
    }

    [Fact]
    public void The_base_is_one_screen_more_unless_white_is_in_the_art()
    {
        var method = PrintMethods.Find("plastisol")!;
        var colours = TestArt.On(120, 60, "#c8102e").Rectangle("#1d3f8f", 40, 0, 80, 60);
        var white = TestArt.On(120, 60, "#c8102e").Rectangle("#ffffff", 40, 0, 80, 60);

        var (pale, dark) = (Of(colours, TestGrounds.White), Of(colours, TestGrounds.Black));

        Assert.Equal((2, 3), (pale.Screens, dark.Screens));
        Assert.Equal((false, true), (pale.Grounds[0].HasWhite, dark.Grounds[0].HasWhite));
        // Red and white on black: the white of the art is on the screen of the base.
        Assert.Equal(2, Of(white, TestGrounds.Black).Screens);
        Assert.True(dark.Grounds[0].Grams > pale.Grounds[0].Grams);

        CostedPrint Of(TestArt art, Ground ground) => CostedPrint.Of(method.Prove(art, 20, ground));
    }

    [Fact]
    public void Jets_are_cheapest_for_one_piece_and_for_two()
    {
        foreach (var dark in (bool[])[false, true])
        foreach (var colours in (int[])[1, 3, 6])
        foreach (var pieces in (int[])[1, 2])
            Assert.True(
                RunCost.Of(Jetted(dark), Card, pieces).PerPiece
                    < RunCost.Of(Screens(colours, dark), Card, pieces).PerPiece
            );
    }

    /// <summary>Common practice: 12 to 36 pieces for one to three colours on pale cloth, 36 to 72 for six and more on dark.</summary>
    [Theory]
    [InlineData(1, false, 12, 36)]
    [InlineData(2, false, 12, 36)]
    [InlineData(3, false, 12, 36)]
    [InlineData(6, true, 36, 72)]
    [InlineData(8, true, 36, 72)]
    public void Screens_get_cheaper_than_jets_where_the_trade_says(int colours, bool dark, int least, int most)
    {
        var crossover = Assert.Single(Crossover.Between(Jetted(dark), Screens(colours, dark), Card, 1000));

        Assert.Equal(("direct-to-garment", "plastisol"), (crossover.Before, crossover.From));
        Assert.InRange(crossover.Pieces, least, most);
    }

    [Fact]
    public void The_crossover_is_where_a_hand_calculation_puts_it()
    {
        // Without spoilage, breaks and floods: 100 once and 1 a piece against 6 a piece cross at 20, where both cost 120.
        var card = new RateCard("by hand")
        {
            HourRate = 60,
            ScreenMakeMinutes = 100,
            SetUpMinutesAutomatic = 0,
            TearDownMinutes = 0,
            ScreenMaterial = 0,
            AutomaticPerHour = 60,
            JetPaleMinutes = 6,
            JetHandlingMinutes = 0,
            InkPerKg = 0,
            JetInkPerKg = 0,
            GarmentBreaks = [],
            SpoiltShare = 0,
            SpoiltAtLeast = 0,
        };

        var crossover = Assert.Single(Crossover.Between(Jetted(false), Screens(1, false), card, 100));

        // Equal at 20; cheaper at 21.
        Assert.Equal(21, crossover.Pieces);
        var cheapest = Crossover.Cheapest([Jetted(false), Screens(1, false)], card, 100);
        Assert.Equal(
            "1 direct-to-garment, 21 plastisol",
            string.Join(", ", cheapest.Select(c => $"{c.From} {c.MethodId}"))
        );
    }

    [Fact]
    public void What_screens_cost_a_shirt_falls_with_every_shirt()
    {
        var print = Screens(4, dark: true);
        var costs = Enumerable
            .Range(1, 600)
            .Select(n => RunCost.Of(print, Card, n))
            .Select(c => c.SetUp / c.Pieces)
            .ToArray();

        Assert.All(costs.Zip(costs.Skip(1)), c => Assert.True(c.Second < c.First));
    }

    [Fact]
    public void Lines_that_share_screens_pay_for_them_once()
    {
        var one = Screens(3, dark: true);
        var two = one with { Grounds = [one.Grounds[0], one.Grounds[0] with { Name = "tee, red" }] };

        Assert.Equal(RunCost.Of(one, Card, 40).Total, RunCost.Of(two, Card, 40).Total, 1e-9);
        Assert.Equal(RunCost.Of(two, Card, 40).Total, RunCost.Of(two, Card, [31, 9]).Total, 1e-9);
        Assert.True(
            RunCost.Of(two, Card, 40).Total < 2 * RunCost.Of(one, Card, 20).Total - RunCost.Of(one, Card, 20).SetUp + 1
        );
    }

    [Fact]
    public void Garments_get_cheaper_in_steps()
    {
        Assert.Equal([5, 4.75, 4.75, 4.5, 4.3], ((int[])[23, 24, 71, 72, 400]).Select(Card.GarmentAt));
    }

    [Theory]
    [InlineData(1, 2)]
    [InlineData(66, 68)]
    [InlineData(67, 70)]
    [InlineData(1000, 1030)]
    public void Spoilt_pieces_are_begun_too(int good, int begun) => Assert.Equal(begun, Card.WithSpoilt(good));

    [Fact]
    public void Counts_that_are_none_are_refused()
    {
        var print = Screens(1, false);

        Assert.Equal(
            "1 grounds need as many counts, 2 given",
            Assert.Throws<ArgumentException>(() => RunCost.Of(print, Card, [1, 2])).Message
        );
        Assert.Equal(
            "a run has 1 piece or more, 0 given",
            Assert.Throws<ArgumentException>(() => RunCost.Of(print, Card, 0)).Message
        );
    }

    [Fact]
    public void Each_method_says_what_it_takes()
    {
        var takes = PrintMethods.All.ToDictionary(m => m.Id, m => m.Work);

        Assert.Equal(["direct-to-garment"], takes.Where(t => t.Value.JetsGarments).Select(t => t.Key));
        Assert.Equal(["sublimation", "cut-and-sew"], takes.Where(t => t.Value.JetsRolls).Select(t => t.Key));
        Assert.Equal(
            ["foil", "vinyl", "plastisol-transfer", "sublimation", "cut-and-sew"],
            takes.Where(t => t.Value.HeatPresses > 0).Select(t => t.Key)
        );
        Assert.Equal(["vinyl"], takes.Where(t => t.Value.CutsSheets).Select(t => t.Key));
        Assert.Equal(["cut-and-sew"], takes.Where(t => t.Value.Sews).Select(t => t.Key));
    }
}
