using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>Rules about inks that cannot be met, and those that had nothing to act on.</summary>
internal static class InkRuleChecks
{
    /// <summary>What refuses the job before anything is separated.</summary>
    public static IEnumerable<Finding> Of(PrintMethod method, SpotSettings settings)
    {
        if (settings.Inks.Rules is not { IsEmpty: false } rules)
            yield break;
        var chooses = !rules.Must.IsEmpty || !rules.Never.IsEmpty;
        if (method.InkFreedom == InkFreedom.None || method.InkFreedom == InkFreedom.OrderOnly && chooses)
        {
            yield return Refused(
                "ink-rules-not-of-this-method",
                method.InkFreedom == InkFreedom.None
                    ? $"{method.Id} prints in its own inks: none can be fixed, left out or moved"
                    : $"{method.Id} prints in its own inks: none can be fixed or left out",
                "leave the rules about inks out, or print with simulated-process or a spot method"
            );
            yield break;
        }
        foreach (var foreign in rules.Must.Where(ink => ink.Kind != method.ColourInk))
            yield return Refused(
                "fixed-ink-of-another-method",
                $"{foreign.Name} ({foreign.Id}) must be used, it is not an ink of {method.Id}",
                $"fix one of {Ids(Shelf(method))}, or choose the method it belongs to"
            );
        foreach (
            var white in rules
                .Must.Where(ink => ink.Role == InkRole.White && ink.Kind == method.ColourInk)
                .Select(i => i.Id)
                .Concat(rules.Never.Concat(rules.Order).Where(id => InkLibrary.Find(id)?.Role == InkRole.White))
                .Distinct()
        )
            yield return Refused(
                "white-is-not-chosen",
                $"{white} is the base's ink: it is printed where the cloth asks for it, first and, as a highlight, last",
                "say what goes under the colours instead: base auto, white or none"
            );
        foreach (var both in rules.Must.Where(ink => rules.Never.Contains(ink.Id)))
            yield return Refused(
                "ink-rules-contradict",
                $"{both.Name} ({both.Id}) must be used and must not be used",
                "take it out of one of the two lists"
            );
        var listed = settings.Inks.Inks.Length + settings.Inks.ExactColours.Length;
        if (listed > 0 && chooses)
            yield return Refused(
                "inks-listed-and-ruled",
                $"{listed} inks are listed by name, and others are fixed or ruled out",
                "list the inks, or give rules for the choice; an order goes with both"
            );
        else if (chooses && method.InkFreedom == InkFreedom.Chosen && rules.Shelf(Shelf(method)).IsEmpty)
            yield return NoInkLeft(method, Shelf(method));
        if (settings.Inks.Count is { } count && rules.Must.Length > count)
            yield return Refused(
                "more-inks-fixed-than-asked",
                $"{rules.Must.Length} inks must be used, {count} {(count == 1 ? "colour was" : "colours were")} asked for",
                $"ask for {rules.Must.Length} colours or more, or fix fewer inks",
                rules.Must.Length,
                count,
                "inks"
            );
    }

    public static Finding NoInkLeft(PrintMethod method, IEnumerable<Ink> shelf) =>
        Refused("no-ink-left", $"every ink of {method.Id} is ruled out", $"allow at least one of {Ids(shelf)}");

    /// <summary>What the rules named and the finished plates do not hold.</summary>
    public static IEnumerable<Finding> Unused(SpotSettings settings, IEnumerable<Ink> printed)
    {
        if (settings.Inks.Rules is not { IsEmpty: false } rules)
            yield break;
        var inks = printed.ToArray();
        var has = inks.Select(i => i.Id).ToHashSet();
        var prints = $"this print's inks are {Ids(inks)}";
        foreach (var fixedInk in rules.Must.Where(ink => !has.Contains(ink.Id)))
            yield return new(
                "fixed-ink-unused",
                FindingWeight.Warning,
                $"{fixedInk.Name} ({fixedInk.Id}) must be used, the art has no colour left for it; {prints}",
                "ask for more colours, or do not fix this ink"
            );
        foreach (var id in rules.Order.Where(id => !has.Contains(id)).Distinct())
            yield return new(
                "order-names-unused-ink",
                FindingWeight.Warning,
                $"the print order names {id}, which does not print here; {prints}",
                "take it out of the order, or fix the ink so that it is used"
            );
    }

    private static IEnumerable<Ink> Shelf(PrintMethod method) =>
        InkLibrary.OfKind(method.ColourInk).Where(ink => ink.Role != InkRole.White);

    private static string Ids(IEnumerable<Ink> inks) => string.Join(", ", inks.Select(i => i.Id));

    private static Finding Refused(
        string code,
        string what,
        string nextStep,
        double? measured = null,
        double? limit = null,
        string? unit = null
    ) => new(code, FindingWeight.Refusal, what, nextStep, measured, limit, unit);
}
