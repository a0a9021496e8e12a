using ProofDesk.Printing.Comparisons;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Tests.Methods;

namespace ProofDesk.Printing.Tests.Comparisons;

public sealed class ComparisonPlanTests
{
    private static PrintMethod Method(string id) => PrintMethods.Find(id)!;

    [Fact]
    public void Every_method_on_four_grounds_is_fifty_two_cells_row_by_row()
    {
        var grounds = new[] { MethodBench.White, MethodBench.Black, MethodBench.Red, PlainTee.WhitePolyester };

        var plan = ComparisonPlan.Of(PrintMethods.All, [], grounds.DistinctBy(g => g.Id));

        Assert.Equal(13 * plan.Grounds.Length, plan.Count);
        Assert.Equal(Enumerable.Range(0, plan.Count), plan.Cells.Select(c => c.Position));
        Assert.All(plan.Cells.Take(plan.Grounds.Length), cell => Assert.Equal(PrintMethods.All[0], cell.Way.Method));
    }

    [Fact]
    public void A_method_that_prints_in_its_own_inks_gets_one_row_whatever_counts_are_asked_for()
    {
        var plan = ComparisonPlan.Of(
            [Method("plastisol"), Method("direct-to-garment"), Method("four-colour-process")],
            [3, null, 2, 3],
            [MethodBench.Black]
        );

        Assert.Equal(
            [
                "Screen print, plastisol",
                "Screen print, plastisol, 2 colours",
                "Screen print, plastisol, 3 colours",
                "Direct to garment",
                Method("four-colour-process").Name,
            ],
            plan.Ways.Select(way => way.Name)
        );
    }

    [Fact]
    public void A_ground_or_a_method_that_is_ticked_twice_is_compared_once()
    {
        var plan = ComparisonPlan.Of([Method("vinyl"), Method("vinyl")], [1], [MethodBench.Black, MethodBench.Black]);

        Assert.Equal(["Cut vinyl, pressed on, 1 colour"], plan.Ways.Select(way => way.Name));
        Assert.Single(plan.Cells);
    }
}
