using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Choices;

public sealed class SecondSetTests
{
    private static readonly PrintMethod Painted = PrintMethods.Find("simulated-process")!;

    private static readonly SpotSettings Four = new()
    {
        Inks = InkChoice.Of(new[] { "bright-yellow", "red", "royal-blue", "black" }.Select(id => InkLibrary.Find(id)!)),
    };

    private static readonly Separation OnThree = Painted.Separate(
        PaintedArt.Dusk(),
        Painted,
        [TestGrounds.White, TestGrounds.Black, TestGrounds.Red],
        Four
    );

    [Fact]
    public void Every_ground_of_the_one_set_says_how_near_it_comes()
    {
        Assert.Equal(["White", "Black", "Red"], OnThree.Fits.Select(f => f.Ground.Colour.Name));
        Assert.Equal(3, OnThree.Findings.Count(f => f.Code == "tonal-fit"));
    }

    [Fact]
    public void The_second_set_serves_the_paler_grounds_and_no_ground_loses_by_it()
    {
        var second = OnThree.SecondSet!;

        Assert.Contains(TestGrounds.White, second.Serves);
        Assert.DoesNotContain(TestGrounds.Black, second.Serves);
        Assert.Equal(["White", "Black", "Red"], second.Gains.Select(g => g.Ground.Colour.Name));
        Assert.All(
            second.Gains,
            g => Assert.True(g.Gain > -0.3, $"{g.Ground.Colour.Name}: {g.OneSet:0.00} to {g.TwoSets:0.00}")
        );
        Assert.True(second.BestGain > 0);
        // White cloth alone needs no whites; with red beside it they run.
        Assert.Equal(second.Serves.Length == 1 ? 4 : 6, second.Screens);
        Assert.Single(OnThree.Findings, f => f.Code == "second-set");
    }

    [Fact]
    public void One_ground_has_one_set()
    {
        var alone = Painted.Separate(PaintedArt.Dusk(), Painted, [TestGrounds.Black], Four);

        Assert.Null(alone.SecondSet);
        Assert.DoesNotContain(alone.Findings, f => f.Code == "second-set");
    }

    [Fact]
    public void A_second_set_that_is_seen_says_what_it_brings_what_it_costs_and_how_to_take_it()
    {
        var finding = new SecondSet(
            [TestGrounds.White, TestGrounds.Red],
            [new(TestGrounds.Black, 1.24, 1.2), new(TestGrounds.White, 3.1, 1.4), new(TestGrounds.Red, 4, 2.5)],
            6
        ).Finding(ScreenRates.CommonPractice(PressClass.Automatic));

        Assert.Equal(FindingWeight.Note, finding.Weight);
        Assert.Equal(
            "a second set of 6 screens for white and red would bring the print nearer to the art, mean dE00 1.2 to 1.2 on black, 3.1 to 1.4 on white, 4.0 to 2.5 on red; that is about 159 minutes of making, setting up and taking down",
            finding.Message
        );
        Assert.Equal(
            "to take it, put white and red on an order of its own with the same art and print; else nothing",
            finding.NextStep
        );
        Assert.Equal((1.7, 0.5, "dE00"), (finding.Measured, finding.Limit, finding.Unit));
    }

    [Fact]
    public void One_that_is_not_seen_says_so_and_print_files_cost_no_screens()
    {
        SetGain[] gains = [new(TestGrounds.Black, 1.2, 1.1), new(TestGrounds.White, 1, 0.9)];
        var hidden = new SecondSet([TestGrounds.White], [.. gains], 4).Finding(
            ScreenRates.CommonPractice(PressClass.Automatic)
        );
        var files = new SecondSet([TestGrounds.White], [new(TestGrounds.Black, 2, 1)], 5, Files: true).Finding(
            ScreenRates.CommonPractice(PressClass.Automatic)
        );

        Assert.Equal(
            "one set serves all grounds: a second set of 4 screens for white would change the mean dE00 from 1.2 to 1.1 on black, 1.0 to 0.9 on white",
            hidden.Message
        );
        Assert.Equal("nothing", hidden.NextStep);
        Assert.Equal(
            "print files of their own for white would bring the print nearer to the art, mean dE00 2.0 to 1.0 on black",
            files.Message
        );
    }

    // Without a base black cloth wants opaque inks, and white cloth shows that they are not the best for it.
    [Fact]
    public void Spot_art_is_offered_a_second_set_only_where_it_would_be_seen()
    {
        var spot = PrintMethods.Find("plastisol")!;
        var art = PaintedArt.Of(
            90,
            30,
            60,
            (x, _) =>
                x < 0.5 ? (0.95, 0.8, 0.1, 1)
                : x < 0.8 ? (0.2, 0.3, 0.75, 1)
                : (0.8, 0.1, 0.1, 1)
        );
        var white = PaintedArt.Of(40, 40, 40, (_, _) => (0.97, 0.97, 0.97, 1));
        Separation On(SizedArt art, BaseChoice under, params ReadOnlySpan<Ground> grounds) =>
            spot.Separate(art, spot, [.. grounds], new() { Base = under });

        var without = On(art, BaseChoice.None, TestGrounds.White, TestGrounds.Black);
        // Both grounds get the same white from the same screen, alone or together.
        var alike = On(white, BaseChoice.Auto, TestGrounds.Red, TestGrounds.Black);

        Assert.Equal("White", Assert.Single(without.SecondSet!.Serves).Colour.Name);
        Assert.Equal(3, without.SecondSet.Screens);
        Assert.True(without.SecondSet.BestGain >= SecondSet.WorthSaying);
        Assert.Single(without.Findings, f => f.Code == "second-set");
        Assert.Null(alike.SecondSet);
        Assert.DoesNotContain(alike.Findings, f => f.Code == "second-set");
    }
}
