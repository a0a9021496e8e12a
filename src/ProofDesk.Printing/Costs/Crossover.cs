using System.Collections.Immutable;

namespace ProofDesk.Printing.Costs;

/// <summary>From this many pieces on another method costs less.</summary>
/// <param name="Pieces">The first quantity at which it is cheaper.</param>
/// <param name="Before">Identifier of the method that was cheaper below.</param>
/// <param name="From">Identifier of the method that is cheaper from here on.</param>
public sealed record Crossover(int Pieces, string Before, string From)
{
    // Sums of the same money in another order differ in the last digits.
    private const double Same = 1e-9;

    /// <summary>
    /// Every quantity from 1 to <paramref name="most"/> at which the cheaper of two changes. Steps of price and spoilt pieces
    /// can make it change more than once; equal costs change nothing.
    /// </summary>
    public static ImmutableArray<Crossover> Between(CostedPrint one, CostedPrint other, RateCard card, int most)
    {
        var found = ImmutableArray.CreateBuilder<Crossover>();
        var before = 0;
        for (var pieces = 1; pieces <= most; pieces++)
        {
            var (a, b) = (RunCost.Of(one, card, pieces).PerPiece, RunCost.Of(other, card, pieces).PerPiece);
            var now = Math.Abs(a - b) <= Same * a ? 0 : Math.Sign(a - b);
            if (now == 0)
                continue;
            if (before != 0 && now != before)
                found.Add(
                    now > 0 ? new(pieces, one.MethodId, other.MethodId) : new(pieces, other.MethodId, one.MethodId)
                );
            before = now;
        }
        return found.ToImmutable();
    }

    /// <summary>Which of several methods is cheapest, as steps from 1 piece to <paramref name="most"/>.</summary>
    public static ImmutableArray<(int From, string MethodId)> Cheapest(
        ImmutableArray<CostedPrint> prints,
        RateCard card,
        int most
    )
    {
        var steps = ImmutableArray.CreateBuilder<(int From, string MethodId)>();
        for (var pieces = 1; pieces <= most && !prints.IsEmpty; pieces++)
        {
            var cheapest = prints.MinBy(p => RunCost.Of(p, card, pieces).PerPiece)!.MethodId;
            if (steps.Count == 0 || steps[^1].MethodId != cheapest)
                steps.Add((pieces, cheapest));
        }
        return steps.ToImmutable();
    }
}
