using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Methods;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Costs;

/// <summary>What a print costs, counted from plates that were never screened, and the sum of a run in words.</summary>
public sealed class PlatesCostTests
{
    private static RateCard Card => RateCard.CommonPractice;

    [Theory]
    [InlineData("plastisol")]
    [InlineData("direct-to-garment")]
    [InlineData("vinyl")]
    public void Plates_cost_what_the_finished_proof_costs(string methodId)
    {
        var method = PrintMethods.Find(methodId)!;
        var art = TestArt.On(120, 60, "#c8102e").Rectangle("#1d3f8f", 40, 0, 80, 60);
        var proof = method.Prove(art, 40, TestGrounds.Black);

        var (_, separation) = ProofMaker.MakePlates(proof.Request);
        var (plates, films) = (CostedPrint.Of(separation, method, PressClass.Automatic), CostedPrint.Of(proof));

        Assert.Equal(films with { Grounds = [] }, plates with { Grounds = [] });
        var (one, other) = (films.Grounds[0], plates.Grounds[0]);
        Assert.Equal(
            (one.Name, one.Passes, one.Flashes, one.HasWhite),
            (other.Name, other.Passes, other.Flashes, other.HasWhite)
        );
        // Films of 300 dpi against tones: the edge of a plate is half a film pixel.
        Assert.InRange(other.Grams, one.Grams * 0.97, one.Grams * 1.03);
        Assert.InRange(other.SheetCm2, one.SheetCm2 * 0.97, one.SheetCm2 * 1.03);
    }

    [Fact]
    public void A_run_is_spread_over_its_grounds_by_their_weights()
    {
        var print = Shared(31, 9);

        Assert.Equal<int>([31, 9], RunCost.Spread(print, 40));
        Assert.Equal<int>([1, 0], RunCost.Spread(print, 1));
        Assert.Equal<int>([8, 2], RunCost.Spread(print, 10));
        Assert.Equal<int>([4, 3, 3], RunCost.Spread(Shared(1, 1, 1), 10));
        Assert.Equal(RunCost.Of(print, Card, [31, 9]), RunCost.Of(print, Card, 40));
    }

    [Fact]
    public void The_sum_of_a_run_is_told_row_by_row()
    {
        var print = Shared(40, 10);

        var rows = RunWorking.Of(print, Card, [40, 10]);

        Assert.Equal(
            [
                "Set-up: 3 screens, each 26.5 min (make 15, set up 4, take down 7.5) at 40.00 an hour and 3.00 of film and emulsion: 62.00",
                // 40 at 400 an hour and 10 at 650: 40 x 0.15 + 10 x 60 / 650 minutes at 40 an hour.
                "Work: 40 of tee 0, each 0.15 min at 40.00 an hour: 0.15 on the automatic press (3 passes, 1 flash); 10 of tee 1, each 0.09 min at 40.00 an hour: 0.09 on the automatic press (2 passes, no flash): 4.62",
                // (40 x 2.8 + 10 x 1.2) g x 1.6 x 18 / 1000, and 3 x 0.2 x 200 g.
                "Ink and sheets: 40 of tee 0, each 2.8 g of ink, 1.6 times that in real use, at 18.00 a kilogram; 10 of tee 1, each 1.2 g of ink, 1.6 times that in real use, at 18.00 a kilogram; and 20 % of the 200 g that flood each of 3 screens stay behind: 5.73",
                "Garments: 50 at 4.75: 95 % of 5.00 from 24 pieces on: 237.50",
                "Spoilage: 2 pieces (3 % of 50, at least 1) with garment, work and ink, 4.91 each: 9.83",
            ],
            rows.Select(r => FormattableString.Invariant($"{r.Part}: {r.Working}: {r.Amount:0.00}"))
        );
        Assert.Equal(RunCost.Of(print, Card, [40, 10]).Total, rows.Sum(r => r.Amount), 1e-9);
    }

    [Fact]
    public void The_sum_of_jets_and_of_sheets_has_no_screens()
    {
        var jets = new CostedPrint(
            "direct-to-garment",
            "Direct to garment",
            new() { JetsGarments = true },
            PressClass.Automatic,
            0,
            [new("tee", 0, 0, true, 6, 400)]
        );
        var sheets = new CostedPrint(
            "vinyl",
            "Cut vinyl",
            new() { CutsSheets = true, HeatPresses = 2 },
            PressClass.Automatic,
            0,
            [new("tee", 0, 0, false, 0, 120)]
        );

        Assert.Equal(
            [
                "no screens, nothing to load",
                "1 piece, each 5.4 min at 40.00 an hour: 3.5 jetting with white and 1.9 of pretreating, drying and curing",
                "1 piece, each 6.0 g of jetted ink at 100.00 a kilogram",
                "1 at 5.00",
                "1 piece (3 % of 1, at least 1) with garment, work and ink, 9.20 each",
            ],
            RunWorking.Of(jets, Card, [1]).Select(r => r.Working)
        );
        Assert.Equal(
            [
                "loading a roll once, 15 min at 40.00 an hour",
                "24 pieces, each 3.8 min at 40.00 an hour: 1.8 cutting and weeding 120 cm2, 2 at the heat press (2 closes)",
                "24 pieces, each 120 cm2 of sheet at 14.00 a square metre",
                "24 at 4.75: 95 % of 5.00 from 24 pieces on",
                "none",
            ],
            RunWorking.Of(sheets, Card with { SpoiltShare = 0, SpoiltAtLeast = 0 }, [24]).Select(r => r.Working)
        );
    }

    /// <summary>
    /// By hand, with the default card and three colours on pale cloth (1.2 g of ink), against jets without white (1 g).
    /// Screens: 3 x 26.5 / 60 x 40 + 3 x 3 = 62; flood 3 x 0.04 x 18 = 2.16; each 60 / 650 / 60 x 40 + 1.2 x 1.6 x 18 / 1000 =
    /// 0.061538 + 0.03456 = 0.096098. Jets: each (0.75 + 1.9) / 60 x 40 + 0.1 = 1.866667. Two pieces spoil from 34 to 66 either way, and
    /// garments cost the same, so with n pieces: 64.16 + (n + 2) x 0.096098 = (n + 2) x 1.866667, n + 2 = 64.16 / 1.770569 = 36.24,
    /// n = 34.24: screens are cheaper from 35 on.
    /// </summary>
    [Fact]
    public void The_crossover_of_the_default_card_is_where_a_hand_calculation_puts_it()
    {
        var screens = Shared(1) with { Grounds = [new("tee", 3, 0, false, 1.2, 400)] };
        var jets = new CostedPrint(
            "direct-to-garment",
            "Direct to garment",
            new() { JetsGarments = true },
            PressClass.Automatic,
            0,
            [new("tee", 0, 0, false, 1, 400)]
        );

        var crossover = Assert.Single(Crossover.Between(jets, screens, Card, 1000));

        Assert.Equal(new Crossover(35, "direct-to-garment", "plastisol"), crossover);
        Assert.True(RunCost.Of(screens, Card, 34).PerPiece > RunCost.Of(jets, Card, 34).PerPiece);
    }

    [Fact]
    public void What_spoils_is_one_number_for_the_card_and_the_ink_list()
    {
        foreach (var pieces in (int[])[1, 24, 66, 67, 100, 1000])
            Assert.Equal(Card.WithSpoilt(pieces), InkListMaker.Prints(pieces));
    }

    private static CostedPrint Shared(params int[] weights) =>
        new(
            "plastisol",
            "Screen print, plastisol",
            MethodWork.Screens,
            PressClass.Automatic,
            3,
            [
                .. weights.Select(
                    (w, i) =>
                        (
                            i == 0
                                ? new CostedGround($"tee {i}", 3, 1, true, 2.8, 400)
                                : new CostedGround($"tee {i}", 2, 0, false, 1.2, 400)
                        ) with
                        {
                            Weight = w,
                        }
                ),
            ]
        );
}
