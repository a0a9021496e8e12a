using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Rosters;

/// <summary>One garment of the list: a name, a number or both.</summary>
/// <param name="Line">Line of the file it came from, the header is 1.</param>
/// <param name="Number">As written: "07" stays "07"; empty when there is none.</param>
/// <param name="Size">Garment size, or empty.</param>
/// <param name="Colour">Garment colour, or empty for the order's first.</param>
public sealed record RosterEntry(int Line, string Name, string Number, string Size, string Colour);

/// <summary>How names and numbers are set; the defaults are those of an adult's back (common practice).</summary>
public sealed record RosterStyle
{
    public double NumberMm { get; init; } = 200;

    /// <summary>Height of a capital of the name, where it fits.</summary>
    public double NameMm { get; init; } = 50;

    /// <summary>Between the name's foot and the number's head.</summary>
    public double GapMm { get; init; } = 25;

    /// <summary>A longer name is set smaller.</summary>
    public double LargestWidthMm { get; init; } = 300;

    /// <summary>Width of the sheet (or carrier) the pieces are laid out on.</summary>
    public double SheetWidthMm { get; init; } = 500;

    /// <summary>Sheet or ink; null = white on dark cloth, black on pale.</summary>
    public Ink? Ink { get; init; }
}

/// <summary>Names and numbers of an order, line by line.</summary>
/// <param name="File">Name of the file, for messages.</param>
public sealed record Roster(string File, ImmutableArray<RosterEntry> Entries)
{
    public RosterStyle Style { get; init; } = new();

    /// <summary>What reading the list wants said with the proof.</summary>
    public ImmutableArray<Finding> Notes { get; init; } = [];
}
