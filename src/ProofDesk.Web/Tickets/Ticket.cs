using System.Collections.Immutable;
using ProofDesk.Printing.Garments;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Tickets;

/// <summary>A station of the press as the ticket lists it.</summary>
/// <param name="Head">null when there is no press plan</param>
/// <param name="Task">"print", "flash", "cool"</param>
/// <param name="Grams">to mix for the whole run on the cloth that takes most; null for stations without a screen</param>
/// <param name="Where">on which cloths it runs, when not on all</param>
public sealed record TicketHead(
    int? Head,
    string Task,
    int? Screen,
    string Plate,
    string Ink,
    string Hex,
    string Mesh,
    string Dots,
    int Strokes,
    bool Flash,
    double? Grams,
    string Where,
    string Said
);

/// <summary>One garment in one colour with its counts.</summary>
public sealed record TicketLine(string Garment, string Counts, int Pieces);

/// <summary>What was written down when these films were last on the press.</summary>
/// <param name="Said">replacements, the first good piece, one line each</param>
public sealed record TicketBefore(DateTimeOffset At, int? Good, int? Spoilt, ImmutableArray<string> Said);

/// <summary>One print of a version, as the press reads it.</summary>
/// <param name="Code">what the square code says: the first film of the print</param>
/// <param name="Tape">null when the garment has no drawing</param>
/// <param name="PictureWidthMm">of the flat picture with its cloth around</param>
public sealed record Ticket(
    PrintSummary Print,
    ImmutableArray<TicketHead> Heads,
    ImmutableArray<string> Grounds,
    TapeDrawing? Tape,
    string TapeGarment,
    string Code,
    ImmutableArray<string> Cautions,
    string PicturePath
)
{
    /// <summary>"Crest, front"; a print that is called as its place is named once.</summary>
    public string Where =>
        string.Equals(Print.Name, Print.Place, StringComparison.OrdinalIgnoreCase)
            ? Words.Capital(Print.Name)
            : $"{Print.Name}, {Print.Place}";
}

/// <summary>All prints of a version, with what stands about it.</summary>
/// <param name="Refusal">why nothing may be burned, or null: the same rule as for films</param>
/// <param name="Approved">"Kim Reed, 28 Nov 2026, 14:05 UTC" when it is released</param>
public sealed record TicketSet(
    ReadVersion Read,
    string? Refusal,
    string Approved,
    ImmutableArray<TicketLine> Lines,
    ImmutableArray<Ticket> Tickets,
    TicketBefore? Before,
    DateTimeOffset MadeAt
)
{
    public const string NotReleased = "NOT RELEASED";

    public string Release => Refusal is null ? $"Released. Approved by {Approved}." : Refusal;
}
