using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Advice;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Separations;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Shop;

namespace ProofDesk.Web.Quantity;

/// <summary>What the page asks for.</summary>
/// <param name="Print">Position of the print in the order, from 0.</param>
/// <param name="Pieces">The chosen quantity.</param>
/// <param name="Methods">Methods that are drawn; empty = chosen by the page.</param>
/// <param name="Sum">The method whose sum is shown.</param>
public sealed record QuantityQuery(int Print, int Pieces, PressClass Press, ImmutableArray<string> Methods, string Sum);

/// <summary>Cost per shirt against quantity of one print of an order.</summary>
public sealed class QuantityPage
{
    public const int MostPieces = 5000;
    public const int MostDrawn = 6;
    private static readonly int[] Rows = [1, 2, 6, 12, 24, 36, 48, 72, 100, 144, 250, 500, 1000, 2500, 5000];

    public QuantityPage(
        Order order,
        ProofOrder asked,
        QuantityQuery query,
        ImmutableArray<MethodTrial> trials,
        RateCard card,
        string currency
    )
    {
        (Order, Asked, Query, Card, Currency, Trials) = (order, asked, query, card, currency, trials);
        Most = query.Pieces > 500 ? MostPieces : 1000;
        var counted = trials
            .Where(t => t.Costed is not null && !t.IsRefused)
            .Select(t => Weighted(t.Costed! with { Press = query.Press }))
            .ToImmutableArray();
        Cheapest = Crossover.Cheapest(counted, card, Most);
        var drawn = Drawn(counted);
        Lines = [.. counted.Select(p => new CostLine(p, card, drawn.IndexOf(p.MethodId) + 1))];
        ImmutableArray<CostLine> seen = [.. Lines.Where(l => l.Look > 0).OrderBy(l => l.Look)];
        Crossovers = [.. Steps(Crossover.Cheapest([.. seen.Select(l => l.Print)], card, Most))];
        Wide = new(seen, Crossovers, query.Pieces, Most, narrow: false);
        Narrow = new(seen, Crossovers, query.Pieces, Most, narrow: true);
        Summed = Lines.FirstOrDefault(l => l.Print.MethodId == query.Sum) ?? Lines.FirstOrDefault();
        if (Summed is { } line)
        {
            var spread = RunCost.Spread(line.Print, query.Pieces);
            Sum = RunWorking.Of(line.Print, card, spread);
            SumCost = RunCost.Of(line.Print, card, spread);
        }
    }

    public Order Order { get; }
    public ProofOrder Asked { get; }
    public QuantityQuery Query { get; }
    public RateCard Card { get; }
    public string Currency { get; }
    public ImmutableArray<MethodTrial> Trials { get; }
    public int Most { get; }

    /// <summary>Every method that can be counted, those that are drawn with their look.</summary>
    public ImmutableArray<CostLine> Lines { get; }

    /// <summary>Where the cheapest of the drawn ones changes.</summary>
    public ImmutableArray<Crossover> Crossovers { get; }

    /// <summary>The cheapest of all that are counted, by quantity.</summary>
    public ImmutableArray<(int From, string MethodId)> Cheapest { get; }
    public CostChart Wide { get; }
    public CostChart Narrow { get; }
    public CostLine? Summed { get; }
    public ImmutableArray<CostRow> Sum { get; } = [];
    public RunCost? SumCost { get; }
    public ProofOrderPrint Print => Asked.Prints[Query.Print];
    public bool IsExample => Card.Name == RateCard.CommonPractice.Name;

    public IEnumerable<MethodTrial> NotCounted => Trials.Where(t => t.Costed is null || t.IsRefused);

    public IEnumerable<int> Quantities => Rows.Where(n => n <= Most).Append(Query.Pieces).Distinct().Order();

    /// <summary>Against every other drawn method: where the one gets cheaper than the other, sentence by sentence.</summary>
    public IEnumerable<(Crossover Crossover, double Before, double From)> Pairs =>
        from one in Lines
        where one.Look > 0
        from other in Lines
        where other.Look > one.Look
        from c in Crossover.Between(one.Print, other.Print, Card, Most)
        orderby c.Pieces
        select (c, Line(c.Before).At(c.Pieces), Line(c.From).At(c.Pieces));

    public CostLine Line(string method) => Lines.First(l => l.Print.MethodId == method);

    public string Name(string method) => Line(method).Print.MethodName;

    public string Amount(double money) => money.ToString("N" + Money.Digits(Currency), CultureInfo.InvariantCulture);

    private CostedPrint Weighted(CostedPrint print)
    {
        var grounds = Asked.Lines.GroupBy(l => (l.GarmentId, l.ColourId)).Select(g => g.Sum(l => l.Pieces)).ToArray();
        return grounds.Length != print.Grounds.Length || grounds.Sum() == 0
            ? print
            : print with
            {
                Grounds = [.. print.Grounds.Select((g, i) => g with { Weight = grounds[i] })],
            };
    }

    /// <summary>Those that are asked for; else the order's own, whatever is cheapest somewhere, jets and spot inks.</summary>
    private ImmutableArray<string> Drawn(ImmutableArray<CostedPrint> counted)
    {
        var can = counted.Select(p => p.MethodId).ToArray();
        IEnumerable<string> wanted =
            Query.Methods.Length > 0
                ? can.Where(Query.Methods.Contains)
                : Notable(counted)
                    .Concat(can.Where(m => m is "direct-to-garment" or "plastisol" or "plastisol-transfer"));
        return [.. wanted.Distinct().Take(MostDrawn)];
    }

    /// <summary>The order's own method, and whatever is cheapest somewhere by more than its line is thick.</summary>
    private IEnumerable<string> Notable(ImmutableArray<CostedPrint> counted)
    {
        var kept = counted.Where(p => p.MethodId == Print.Method).ToList();
        foreach (var (from, method) in Cheapest)
        {
            var print = counted.First(p => p.MethodId == method);
            var cost = RunCost.Of(print, Card, from).PerPiece;
            if (kept.All(k => RunCost.Of(k, Card, from).PerPiece > SeenApart * cost))
                kept.Add(print);
        }
        return kept.Select(p => p.MethodId);
    }

    private const double SeenApart = 1.01;

    private static IEnumerable<Crossover> Steps(ImmutableArray<(int From, string MethodId)> cheapest) =>
        cheapest.Zip(cheapest.Skip(1), (before, from) => new Crossover(from.From, before.MethodId, from.MethodId));
}
