using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Advice;

/// <summary>
/// Which methods can print this art on this cloth in this quantity, and why: the findings of each trial as they are, and what
/// heads, hand, wash and money add to them.
/// </summary>
public static class Advisor
{
    /// <summary>A run this many times as dear as the cheapest is worth a caution (a choice of ours).</summary>
    private const double Dear = 2;

    /// <summary>A film this thick over this much cloth is stiff (common practice: <see cref="HandFeel"/>).</summary>
    private const double StiffUm = 60;
    private const double LargeCm2 = 500;

    /// <summary>Notes that say something about the choice of a method; the rest is for whoever prints it.</summary>
    private static readonly ImmutableHashSet<string> Worth =
    [
        "flat-art",
        "muted-on-blend",
        "white-is-the-cloth",
        "white-is-grey",
        "ground-tints-print",
        "nothing-to-discharge",
        "discharge-varies",
        "foil-wears",
        "metallic-wears",
        "placed-by-hand",
        "sheets-stacked",
        "tonal-fit",
    ];

    /// <summary>Notes that make one think twice: something simpler would do the same, or a print that wears.</summary>
    private static readonly ImmutableHashSet<string> ThinkTwice = ["nothing-to-discharge", "foil-wears", "flat-art"];

    /// <param name="trials">All on the same art and grounds.</param>
    /// <param name="quantity">Good pieces, 1 or more.</param>
    public static ImmutableArray<MethodAdvice> Of(ImmutableArray<MethodTrial> trials, RateCard card, int quantity)
    {
        var costs = trials.ToDictionary(t => t.Method.Id, t => Cost(t, card, quantity));
        var cheapest = trials
            .Where(t => costs[t.Method.Id] is not null && !Stops(t).Any() && !HeadStops(t).Any())
            .OrderBy(t => costs[t.Method.Id]!.PerPiece)
            .FirstOrDefault();
        return
        [
            .. trials
                .Select(t => Of(t, card, costs[t.Method.Id], cheapest, costs))
                .OrderBy(a => a.Standing)
                .ThenBy(a => a.Cost?.PerPiece ?? double.PositiveInfinity),
        ];
    }

    private static RunCost? Cost(MethodTrial trial, RateCard card, int quantity) =>
        trial.Costed is { } costed ? RunCost.Of(costed, card, quantity) : null;

    private static MethodAdvice Of(
        MethodTrial trial,
        RateCard card,
        RunCost? cost,
        MethodTrial? cheapest,
        Dictionary<string, RunCost?> costs
    )
    {
        Reason[] stops = [.. Stops(trial), .. HeadStops(trial)];
        // What stops a method is all there is to say of it.
        if (stops.Length > 0)
            return new(trial.Method, Standing.Cannot, [.. stops], cost);
        Reason[] reasons =
        [
            .. FromFindings(trial),
            .. Heads(trial),
            .. Detail(trial),
            .. Hand(trial),
            .. Washing(trial),
            .. cost is null ? [] : Money(trial, card, cost, cheapest, costs),
        ];
        return new(
            trial.Method,
            reasons.Length == 0 ? Standing.Can : reasons.Max(r => r.Standing),
            [.. reasons.OrderByDescending(r => r.Standing)],
            cost
        );
    }

    private static IEnumerable<Reason> Stops(MethodTrial trial) =>
        trial.Findings.Where(f => IsStop(trial, f)).Select(f => Said(f, Standing.Cannot)).Concat(Empty(trial));

    private static bool IsStop(MethodTrial trial, Finding f) =>
        f.Weight == FindingWeight.Refusal
        || f.Code is "larger-than-print-area" or "no-plate"
        // Solids that are cut or pressed carry no painting at all.
        || f.Code is "painted-art" && !trial.Method.Rules.HasTones;

    private static IEnumerable<Reason> Empty(MethodTrial trial)
    {
        if (trial.Costed is null && !trial.IsRefused && trial.Findings.All(f => f.Code != "no-plate"))
            yield return new(Standing.Cannot, "It would print nothing: no plate came out of the art.", "counted");
    }

    private static IEnumerable<Reason> FromFindings(MethodTrial trial)
    {
        foreach (var finding in trial.Findings.Where(f => !IsStop(trial, f)))
            if (finding.Weight == FindingWeight.Warning)
                yield return Said(finding, Standing.CanWithCaution);
            // Jets print flat art without a screen more.
            else if (Worth.Contains(finding.Code) && !(finding.Code == "flat-art" && trial.Costed is { Screens: 0 }))
                yield return Said(finding, ThinkTwice.Contains(finding.Code) ? Standing.CanWithCaution : Standing.Can);
    }

    private static IEnumerable<Reason> HeadStops(MethodTrial trial) =>
        trial
            .Grounds.SelectMany(g => g.Heads?.Findings ?? [])
            .Where(f => f.Code == "too-few-heads")
            .Select(f => Said(f, Standing.Cannot));

    private static IEnumerable<Reason> Heads(MethodTrial trial)
    {
        var worst = trial.Grounds.Where(g => g.Heads is not null).OrderBy(g => g.Heads!.FreeHeads).FirstOrDefault();
        if (worst?.Heads is not { } plan)
            yield break;
        foreach (var finding in trial.Grounds.SelectMany(g => g.Heads?.Findings ?? []))
            yield return Said(finding, Standing.CanWithCaution);
        var used = plan.Equipment.Heads - plan.FreeHeads;
        var flashes = plan.Heads.Count(h => h.Task is HeadTask.Flash or HeadTask.Cool);
        yield return new(
            Standing.Can,
            Text(
                $"It takes {Count(trial.Costed?.Screens ?? 0, "screen")} and {used} of the {plan.Equipment.Heads} heads of the {plan.Equipment.Name} on {Cloth(worst)}{(flashes > 0 ? Text($", {flashes} of them for flash and cool-down") : "")}."
            ),
            "counted; heads of the press: common practice"
        );
    }

    private static IEnumerable<Reason> Detail(MethodTrial trial)
    {
        if (
            trial.Costed is not { Screens: > 0 }
            || trial.Findings.Any(f =>
                f.Code is "thin-lines" or "foil-lines-too-thin" or "foil-gaps-too-thin" or "small-type"
            )
        )
            yield break;
        var least = trial.Method.Work.LaysFoil ? FoilChecks.LeastMm : FineLines.SureMm;
        yield return new(
            Standing.Can,
            Text($"Its lines hold: none was found thinner than {least:0.00} mm, and no type under 8 pt."),
            "measured in the art; limit: common practice, physics 1.5 and 3.3"
        );
    }

    private static IEnumerable<Reason> Hand(MethodTrial trial)
    {
        var felt = trial.Grounds.Where(g => g.Hand is not null).OrderByDescending(g => g.Hand!.ThickestUm).ToArray();
        if (felt is not [{ Hand: { } hand } ground, ..])
            yield break;
        var cm2 = trial.Costed!.Grounds.Max(g => g.SheetCm2);
        var stiff = hand.ThickestUm >= StiffUm && cm2 >= LargeCm2;
        yield return new(
            stiff ? Standing.CanWithCaution : Standing.Can,
            Text(
                $"Its hand on {Cloth(ground)}: {hand.Words} ({hand.ThickestUm:0} um where most lies on each other, {hand.DryGrams:0.0#} g of dry ink in all).{(stiff ? Text($" Over {cm2:0} cm2 that is stiff and warm to wear.") : "")}"
            ),
            "computed, physics 1.5; words: common practice"
        );
    }

    private static IEnumerable<Reason> Washing(MethodTrial trial)
    {
        if (trial.Costed is not null && Wash.Of(trial.Method) is { } wash)
            yield return new(Standing.Can, wash, "common practice, from memory");
    }

    private static IEnumerable<Reason> Money(
        MethodTrial trial,
        RateCard card,
        RunCost cost,
        MethodTrial? cheapest,
        Dictionary<string, RunCost?> costs
    )
    {
        var share = cost.SetUp / cost.Total;
        var once =
            trial.Costed!.Screens > 0
                ? Text($"{100 * share:0} % of that is {Count(trial.Costed.Screens, "screen")}, made and set up once")
            : share > 0 ? Text($"{100 * share:0} % of that is loading a roll once")
            : "there is nothing to set up, so one piece costs nearly the same";
        var least = cheapest is null ? null : costs[cheapest.Method.Id];
        var dear = least is not null && cost.PerPiece > Dear * least.PerPiece;
        var beside =
            dear
                ? Text(
                    $", {cost.PerPiece / least!.PerPiece:0.0} times as much as {cheapest!.Method.Name} ({least.PerPiece:0.00})"
                )
            : cheapest == trial ? ", the least of all methods here"
            : "";
        yield return new(
            dear ? Standing.CanWithCaution : Standing.Can,
            Text(
                $"{Count(cost.Pieces, "piece")} {(cost.Pieces == 1 ? "costs" : "cost")} {cost.PerPiece:0.00}{(cost.Pieces == 1 ? "" : " each")}{beside}: {once}."
            ),
            "rate card: " + card.Name
        );
    }

    private static Reason Said(Finding finding, Standing standing) =>
        new(
            standing,
            Sentence(finding.Message) + (IsNothing(finding.NextStep) ? "" : " " + Sentence(finding.NextStep)),
            FindingSources.Of(finding.Code)
        );

    private static bool IsNothing(string step) =>
        step.Length == 0
        || step == "nothing"
        || step.StartsWith("nothing,", StringComparison.Ordinal)
        || step.StartsWith("nothing;", StringComparison.Ordinal);

    /// <summary>A finding's words with a capital and a full stop.</summary>
    private static string Sentence(string words) =>
        words.Length == 0 ? "" : char.ToUpperInvariant(words[0]) + words[1..].TrimEnd('.') + ".";

    private static string Cloth(TrialGround ground) => ground.Ground.Colour.Name.ToLowerInvariant();

    private static string Count(int n, string one) => n == 1 ? $"1 {one}" : Text($"{n} {one}s");

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
