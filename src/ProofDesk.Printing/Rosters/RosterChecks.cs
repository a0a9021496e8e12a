using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Rosters;

/// <summary>What of a roster does not fit: names too long, strokes too thin, garments that are not in the order.</summary>
internal static class RosterChecks
{
    /// <summary>Capitals and strokes one can weed ([PHYSICS] 3.3, garment practice).</summary>
    private const double LeastCapitalMm = 6;

    private const double LeastStrokeMm = 1;

    public static bool Takes(PrintMethod method) => method.Id is "vinyl" or "plastisol-transfer";

    public static IEnumerable<Finding> Of(
        Roster roster,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        ImmutableArray<RosterPiece> pieces
    )
    {
        foreach (var note in roster.Notes)
            yield return note;
        if (!Takes(method))
            yield return new(
                "roster-not-of-this-method",
                FindingWeight.Refusal,
                $"names and numbers are not made with {method.Id}: every piece would be a set of its own",
                "choose vinyl or plastisol-transfer"
            );
        if (roster.Style.Ink is { } ink && ink.Kind != method.ColourInk)
            yield return new(
                "ink-of-another-method",
                FindingWeight.Refusal,
                $"{ink.Name} ({ink.Id}) is not an ink of {method.Id}",
                "choose from: " + string.Join(", ", InkLibrary.OfKind(method.ColourInk).Select(i => i.Id))
            );
        var colours = grounds.Select(g => g.Colour.Id).ToArray();
        foreach (var piece in pieces)
        {
            var (entry, style) = (piece.Entry, roster.Style);
            var at = $"{roster.File}, line {entry.Line}";
            if (piece.NameMm > 0 && piece.NameMm < LeastCapitalMm)
                yield return new(
                    "roster-too-long",
                    FindingWeight.Refusal,
                    Text(
                        $"{at}, name: \"{entry.Name}\" fits {style.LargestWidthMm:0} mm only with capitals {piece.NameMm:0.0} mm high, {LeastCapitalMm:0} mm can be weeded"
                    ),
                    "shorten it, or allow more width",
                    Math.Round(piece.NameMm, 1),
                    LeastCapitalMm,
                    "mm"
                );
            else if (piece.NameMm > 0 && piece.NameMm < style.NameMm - 1)
                yield return new(
                    "roster-set-smaller",
                    FindingWeight.Note,
                    Text(
                        $"{at}, name: \"{entry.Name}\" is set {piece.NameMm:0} mm high to fit {style.LargestWidthMm:0} mm, the others {style.NameMm:0} mm"
                    ),
                    "nothing, or shorten it",
                    Math.Round(piece.NameMm, 1),
                    style.NameMm,
                    "mm"
                );
            if (
                piece.Blocks.Min(b => b.ThinnestMm) is var thin
                && thin < LeastStrokeMm
                && piece.NameMm >= LeastCapitalMm
            )
                yield return new(
                    "strokes-too-thin",
                    FindingWeight.Warning,
                    Text(
                        $"{at}: the thinnest strokes of \"{entry.Name}\" are {thin:0.0} mm wide, {LeastStrokeMm:0} mm can be weeded and holds on a garment"
                    ),
                    "shorten it, or allow more width",
                    Math.Round(thin, 2),
                    LeastStrokeMm,
                    "mm"
                );
            if (entry.Colour.Length > 0 && Ground(grounds, entry) is null)
                yield return new(
                    "roster-colour",
                    FindingWeight.Refusal,
                    $"{at}, colour: \"{entry.Colour}\" is not in the order",
                    "the order has " + string.Join(", ", colours)
                );
            if (
                entry.Size.Length > 0
                && grounds[0].Garment.Sizes.Length > 0
                && grounds[0].Garment.Size(entry.Size) is null
            )
                yield return new(
                    "roster-size",
                    FindingWeight.Refusal,
                    $"{at}, size: {grounds[0].Garment.Name} has no size \"{entry.Size}\"",
                    "it has " + string.Join(", ", grounds[0].Garment.Sizes.Select(s => s.Size))
                );
        }
    }

    /// <summary>The ground of a line: by identifier or name, the first when none is given; null when the order has no such colour.</summary>
    public static Ground? Ground(ImmutableArray<Ground> grounds, RosterEntry entry) =>
        entry.Colour.Length == 0
            ? grounds[0]
            : grounds.FirstOrDefault(g =>
                entry.Colour.Equals(g.Colour.Id, StringComparison.OrdinalIgnoreCase)
                || entry.Colour.Equals(g.Colour.Name, StringComparison.OrdinalIgnoreCase)
            );
}
