using System.Collections.Immutable;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Costs;

/// <summary>What a run costs, in the shop's money.</summary>
/// <param name="Pieces">Good pieces.</param>
/// <param name="SetUp">Screens, films and whatever else is done once, whatever the quantity.</param>
/// <param name="Work">Work on each piece.</param>
/// <param name="Ink">Ink, sheets, foil, paper.</param>
/// <param name="Garments">Blank garments of the good pieces.</param>
/// <param name="Spoilage">Garments, work and ink of those that spoil.</param>
public sealed record RunCost(int Pieces, double SetUp, double Work, double Ink, double Garments, double Spoilage)
{
    public double Total => SetUp + Work + Ink + Garments + Spoilage;

    public double PerPiece => Total / Pieces;

    /// <summary>A run of <paramref name="pieces"/> spread over the grounds of the print by their weights.</summary>
    public static RunCost Of(CostedPrint print, RateCard card, int pieces) => Of(print, card, Spread(print, pieces));

    /// <summary>Whole pieces of each ground that add up to all of them: what is left over goes to the largest remainders, the first first.</summary>
    public static ImmutableArray<int> Spread(CostedPrint print, int pieces)
    {
        var weights = print.Grounds.Select(g => (long)g.Weight).ToArray();
        var all = weights.Sum();
        var counts = weights.Select(w => all == 0 ? 0 : (int)(pieces * w / all)).ToArray();
        var left = pieces - counts.Sum();
        foreach (
            var i in Enumerable
                .Range(0, weights.Length)
                .OrderByDescending(i => all == 0 ? 0 : pieces * weights[i] % all)
                .Take(left)
        )
            counts[i]++;
        return [.. counts];
    }

    /// <param name="pieces">Good pieces of each ground, in the order of the print's.</param>
    /// <exception cref="ArgumentException">Another number of grounds, a negative count, or none at all.</exception>
    public static RunCost Of(CostedPrint print, RateCard card, ImmutableArray<int> pieces)
    {
        if (pieces.Length != print.Grounds.Length)
            throw new ArgumentException($"{print.Grounds.Length} grounds need as many counts, {pieces.Length} given");
        if (pieces.Any(n => n < 0) || pieces.Sum() == 0)
            throw new ArgumentException($"a run has 1 piece or more, {string.Join(" + ", pieces)} given");
        var all = pieces.Sum();
        var (work, ink) = (0.0, 0.0);
        for (var i = 0; i < pieces.Length; i++)
        {
            work += pieces[i] * WorkOf(print, card, print.Grounds[i]);
            ink += pieces[i] * MaterialOf(print, card, print.Grounds[i]);
        }
        var (garment, spoilt) = (card.GarmentAt(all), card.WithSpoilt(all) - all);
        return new(
            all,
            SetUpOf(print, card),
            work,
            ink + Flood(print, card),
            all * garment,
            spoilt * (garment + (work + ink) / all)
        );
    }

    private static double SetUpOf(CostedPrint print, RateCard card)
    {
        var minutes =
            print.Screens * card.Screens(print.Press).MinutesPerScreen
            + (print.Work.JetsRolls || print.Work.CutsSheets ? card.RollSetUpMinutes : 0);
        return minutes / 60 * card.HourRate + print.Screens * card.ScreenMaterial;
    }

    private static double WorkOf(CostedPrint print, RateCard card, CostedGround ground) =>
        WorkMinutes(print, card, ground) / 60 * card.HourRate;

    /// <summary>Minutes of work on one garment.</summary>
    internal static double WorkMinutes(CostedPrint print, RateCard card, CostedGround ground)
    {
        var minutes = print.Work.HeatPresses * card.HeatPressMinutes;
        if (ground.Passes > 0)
            minutes += card.PressMinutes(print.Press, ground.Passes, ground.Flashes);
        if (print.Work.JetsGarments)
            minutes += (ground.HasWhite ? card.JetDarkMinutes : card.JetPaleMinutes) + card.JetHandlingMinutes;
        if (print.Work.CutsSheets)
            minutes += ground.SheetCm2 / 100 * card.WeedingMinutesPer100Cm2;
        if (print.Work.Sews)
            minutes += card.SewingMinutes;
        return minutes;
    }

    internal static double MaterialOf(CostedPrint print, RateCard card, CostedGround ground)
    {
        var jets = print.Work.JetsGarments || print.Work.JetsRolls;
        // What a print head lays is what it uses; a squeegee leaves more behind than it prints.
        var ink = ground.Grams / 1000 * (jets ? card.JetInkPerKg : card.InkPerKg * InkListMaker.RealUse);
        var m2 = ground.SheetCm2 / 10_000;
        return ink
            + (print.Work.JetsRolls ? m2 * card.RollPerM2 : 0)
            + (print.Work.CutsSheets || print.Work.LaysFoil ? m2 * card.SheetPerM2 : 0);
    }

    // Most of what floods a screen goes back into its bucket.
    internal const double FloodLost = 0.2;

    private static double Flood(CostedPrint print, RateCard card) =>
        print.Screens * FloodLost * InkListMaker.FloodGrams / 1000 * card.InkPerKg;
}
