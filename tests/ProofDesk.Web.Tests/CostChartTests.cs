using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Separations;
using ProofDesk.Web.Quantity;

namespace ProofDesk.Web.Tests;

/// <summary>The chart of cost by quantity: where lines, steps, rings and names stand.</summary>
public sealed class CostChartTests
{
    [Fact]
    public void Ten_times_the_quantity_is_equally_far_wherever_it_begins()
    {
        var chart = Chart(Screens, Jets);

        Assert.Equal(chart.X(10) - chart.X(1), chart.X(1000) - chart.X(100), 1e-9);
        Assert.Equal((chart.Left, chart.Right), (chart.X(1), chart.X(1000)));
        Assert.Equal((chart.Floor, chart.Ceiling), (chart.Y(0), chart.Y(chart.Top)));
    }

    [Fact]
    public void A_step_of_the_garments_price_goes_straight_down_where_it_begins()
    {
        var chart = Chart(Screens, Jets);
        var points = Points(chart.Path(chart.Labels.Single(l => l.Line.Look == 1).Line));

        foreach (var from in (int[])[24, 72, 144])
        {
            var here = points.Where(p => Math.Abs(p.X - chart.X(from)) < 0.01).ToArray();
            Assert.Equal(2, here.Length);
            // A twentieth of the price of a garment and more: it can be seen.
            Assert.True(here[1].Y > here[0].Y + 2, $"{here[0]} to {here[1]} at {from}");
        }
        Assert.All(points.Zip(points.Skip(1)), p => Assert.True(p.Second.X >= p.First.X));
    }

    [Fact]
    public void A_ring_stands_on_the_line_that_becomes_the_cheapest()
    {
        var crossover = Assert.Single(Crossover.Between(Jets, Screens, RateCard.CommonPractice, 1000));

        var mark = Assert.Single(Chart(Screens, Jets).Marks);

        var chart = Chart(Screens, Jets);
        var cost = RunCost.Of(Screens, RateCard.CommonPractice, crossover.Pieces).PerPiece;
        Assert.Equal((chart.X(crossover.Pieces), chart.Y(cost)), (mark.X, mark.Y));
    }

    [Fact]
    public void Names_at_the_ends_of_lines_never_lie_on_each_other()
    {
        var chart = Chart([
            .. Enumerable.Range(0, 6).Select(i => Screens with { MethodId = $"m{i}", Screens = 3 + i }),
        ]);

        var names = chart.Labels.Select(l => l.TextY).ToArray();

        Assert.All(names.Zip(names.Skip(1)), n => Assert.True(n.Second - n.First >= 18.99));
        Assert.All(names, n => Assert.InRange(n, chart.Ceiling, chart.Floor));
    }

    private static CostChart Chart(params CostedPrint[] prints)
    {
        var card = RateCard.CommonPractice;
        ImmutableArray<CostLine> lines = [.. prints.Select((p, i) => new CostLine(p, card, i + 1))];
        var cheapest = Crossover.Cheapest([.. prints], card, 1000);
        return new(
            lines,
            [.. cheapest.Zip(cheapest.Skip(1), (a, b) => new Crossover(b.From, a.MethodId, b.MethodId))],
            100,
            1000,
            narrow: false
        );
    }

    private static (double X, double Y)[] Points(string path) =>
        [
            .. path[1..]
                .Split('L')
                .Select(p => p.Split(' '))
                .Select(p =>
                    (double.Parse(p[0], CultureInfo.InvariantCulture), double.Parse(p[1], CultureInfo.InvariantCulture))
                ),
        ];

    private static CostedPrint Screens { get; } =
        new(
            "plastisol",
            "Screen print, plastisol",
            MethodWork.Screens,
            PressClass.Automatic,
            3,
            [new("tee", 3, 0, false, 1.2, 400)]
        );

    private static CostedPrint Jets { get; } =
        new(
            "direct-to-garment",
            "Direct to garment",
            new() { JetsGarments = true },
            PressClass.Automatic,
            0,
            [new("tee", 0, 0, false, 1, 400)]
        );
}
