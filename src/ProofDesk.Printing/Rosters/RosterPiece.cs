using System.Collections.Immutable;

namespace ProofDesk.Printing.Rosters;

/// <summary>One line of the roster as it is set: outlines in mm, name above number, both centred.</summary>
/// <param name="NameMm">Height of the name's capitals; 0 without a name.</param>
/// <param name="Blocks">Name and number apart, each with its own origin: what is laid out on the sheet.</param>
public sealed record RosterPiece(
    RosterEntry Entry,
    ImmutableArray<ImmutableArray<(double X, double Y)>> Contours,
    double WidthMm,
    double HeightMm,
    double NameMm,
    ImmutableArray<RosterBlock> Blocks
)
{
    public static RosterPiece Of(RosterEntry entry, RosterStyle style)
    {
        var nameMm = entry.Name.Length == 0 ? 0 : FittingMm(entry.Name, style);
        var name = nameMm == 0 ? null : BlockLetters.Set(entry.Name, nameMm);
        var number = entry.Number.Length == 0 ? null : BlockLetters.Set(entry.Number, style.NumberMm);
        var width = Math.Max(name?.WidthMm ?? 0, number?.WidthMm ?? 0);
        var numberTop = name is null ? 0 : name.HeightMm + style.GapMm;
        var contours = ImmutableArray.CreateBuilder<ImmutableArray<(double X, double Y)>>();
        if (name is not null)
            contours.AddRange(Moved(name, (width - name.WidthMm) / 2, name.AboveMm));
        if (number is not null)
            contours.AddRange(Moved(number, (width - number.WidthMm) / 2, numberTop));
        return new(
            entry,
            contours.ToImmutable(),
            width,
            number is null ? name!.HeightMm : numberTop + number.HeightMm,
            nameMm,
            [.. new[] { Block(name, entry.Name, entry), Block(number, entry.Number, entry) }.OfType<RosterBlock>()]
        );
    }

    /// <summary>The wanted height, or what lets the name fit.</summary>
    private static double FittingMm(string name, RosterStyle style)
    {
        var width = BlockLetters.Set(name, style.NameMm).WidthMm;
        return width <= style.LargestWidthMm ? style.NameMm : style.NameMm * style.LargestWidthMm / width;
    }

    private static RosterBlock? Block(BlockText? text, string written, RosterEntry entry) =>
        text is null
            ? null
            : new(entry, written, [.. Moved(text, 0, text.AboveMm)], text.WidthMm, text.HeightMm, text.ThinnestMm);

    private static IEnumerable<ImmutableArray<(double X, double Y)>> Moved(BlockText text, double x, double y) =>
        text.Contours.Select(c => c.Select(p => (p.X + x, p.Y + y)).ToImmutableArray());
}

/// <summary>A name or a number, to be cut in one.</summary>
public sealed record RosterBlock(
    RosterEntry Entry,
    string Text,
    ImmutableArray<ImmutableArray<(double X, double Y)>> Contours,
    double WidthMm,
    double HeightMm,
    double ThinnestMm
);
