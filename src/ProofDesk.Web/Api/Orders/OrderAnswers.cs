using System.ComponentModel;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Printing.Artworks;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Shop;

namespace ProofDesk.Web.Api.Orders;

/// <summary>One page of orders.</summary>
public sealed record OrderList(
    IReadOnlyList<OrderRow> Orders,
    [property: Description("Address of the next page; null on the last one.")]
    [property: Example("\"/api/v1/orders?limit=50&cursor=MjAyNi0xMi0wMXwxMDAz\"")]
        string? Next
);

/// <summary>An order as the desk lists it.</summary>
public sealed record OrderRow(
    Guid Id,
    [property: Description("The number people say on the telephone.")] [property: Example("1007")] int Number,
    [property: Example("\"Regatta shirts\"")] string Title,
    [property: Example("\"Harbour Rowing Club\"")] string Client,
    OrderState State,
    [property: Description("The day the garments must be in hand.")] DateOnly? InHands,
    DateOnly? ApproveBy,
    [property: Description("Pieces of all lines together.")] [property: Example("48")] int Pieces,
    [property: Description("The newest version; null while there is none.")] VersionRow? Newest,
    [property: Description("Why production is held; empty when it is not.")] string Held
)
{
    public static OrderRow Of(Order order) =>
        new(
            order.Id,
            order.Number,
            order.Title,
            order.Client?.Name ?? "",
            order.State,
            order.InHandsDate,
            order.ApproveByDate,
            order.Lines.Sum(l => l.Counts.Sum(c => c.Count)),
            order.Versions.MaxBy(v => v.Number) is { } newest ? VersionRow.Of(newest) : null,
            order.HeldSince is null ? "" : order.HeldWhy
        );
}

/// <summary>A version in short.</summary>
public sealed record VersionRow(
    Guid Id,
    [property: Example("1")] int Number,
    VersionState State,
    DateTimeOffset CreatedAt,
    DateTimeOffset? SentAt,
    DateTimeOffset? DecidedAt,
    [property: Description("SHA-256 of what the version binds; null until it is rendered.")] string? ManifestSha256
)
{
    public static VersionRow Of(ProofVersion version) =>
        new(
            version.Id,
            version.Number,
            version.State,
            version.CreatedAt,
            version.SentAt,
            version.DecidedAt,
            version.ManifestSha256
        );
}

/// <summary>An order with everything it asks for.</summary>
public sealed record OrderAnswer(
    Guid Id,
    [property: Example("1007")] int Number,
    [property: Example("\"Regatta shirts\"")] string Title,
    ClientAnswer Client,
    OrderState State,
    DateOnly? InHands,
    DateOnly? ApproveBy,
    [property: Description("What the order is worth, in the shop's currency; null while nobody said.")] decimal? Value,
    [property: Description("ISO 4217; empty while the shop has not said.")] string Currency,
    [property: Description("The evidence an answer must carry; null for the shop's rule by value.")]
        EvidenceLevel? Evidence,
    [property: Description(
        "Address of a second person who must approve; null for none, and for a key that may not see addresses."
    )]
        string? SecondApprover,
    bool SampleAsked,
    string Notes,
    IReadOnlyList<PrintAnswer> Prints,
    IReadOnlyList<LineAnswer> Lines,
    IReadOnlyList<VersionRow> Versions,
    [property: Description("Questions nobody answered yet, before a proof can be made: background, words.")]
        IReadOnlyList<OpenQuestion> Open,
    [property: Description("Why production is held; empty when it is not.")] string Held
)
{
    public static OrderAnswer Of(Order order, string currency, PersonAtDesk caller, IReadOnlyList<OpenQuestion> open) =>
        new(
            order.Id,
            order.Number,
            order.Title,
            new(order.Client!.Name, caller.May(Right.SeeClients) ? order.Client.Email : null),
            order.State,
            order.InHandsDate,
            order.ApproveByDate,
            order.ValueMinor is { } minor ? Money.Amount(minor, currency) : null,
            currency,
            order.EvidenceAsked,
            caller.May(Right.SeeClients) && order.SecondApprover.Length > 0 ? order.SecondApprover : null,
            order.SampleAsked,
            order.Notes,
            [.. order.Prints.Select(PrintAnswer.Of)],
            [.. order.Lines.Select(LineAnswer.Of)],
            [.. order.Versions.OrderByDescending(v => v.Number).Select(VersionRow.Of)],
            open,
            order.HeldSince is null ? "" : order.HeldWhy
        );
}

/// <summary>What the shop must say before a proof can be made.</summary>
public enum OpenQuestion
{
    /// <summary>No pixel of the art lets the cloth through: is its background printed or dropped?</summary>
    Background,

    /// <summary>Text stands in the art as text: which words must it read?</summary>
    Words,
}

public sealed record ClientAnswer(
    [property: Example("\"Harbour Rowing Club\"")] string Name,
    [property: Description("Null for a key that may not see addresses.")]
    [property: Example("\"kim@rowing.example\"")]
        string? Email
);

/// <summary>One art at one place in one method.</summary>
public sealed record PrintAnswer(
    [property: Example("\"front\"")] string Name,
    Place Place,
    [property: Description("Width of the inked extent, mm.")] double WidthMm,
    [property: Description("From the collar or hem seam to the print, mm.")] double FromSeamMm,
    [property: Description("From the centre line, mm; positive to the wearer's left.")] double FromCentreMm,
    [property: Example("\"plastisol\"")] string Method,
    [property: Description("\"drop\", \"print\", or empty while nobody said.")] string Background,
    [property: Description("\"auto\", a number of colours, or ink ids parted by commas.")] string Inks,
    [property: Description("What lies under the colours: auto, white, discharge or none.")] string Base,
    [property: Description("Id of the press; empty for the usual automatic press.")] string Press,
    [property: Description("Words in the art as they must read, one a line.")] IReadOnlyList<string> Words,
    [property: Example("\"crest.svg\"")] string ArtFileName,
    string ArtMediaType,
    string ArtSha256
)
{
    public static PrintAnswer Of(OrderPrint print)
    {
        // Units and choices as the proof reads them.
        var asked = ProofOrderPrint.Of(print);
        return new(
            asked.Name,
            asked.Place,
            asked.WidthMm,
            asked.FromSeamMm,
            asked.FromCentreMm,
            asked.Method,
            asked.Background,
            asked.Inks,
            asked.Base,
            asked.Press,
            asked.Words,
            asked.ArtFileName,
            asked.ArtMediaType,
            asked.ArtSha256
        );
    }
}

/// <summary>One garment in one colour with its counts.</summary>
public sealed record LineAnswer(
    [property: Example("\"tee\"")] string Garment,
    [property: Example("\"black\"")] string Colour,
    [property: Description("Pieces by size.")]
    [property: Example("{\"S\":6,\"M\":14}")]
        IReadOnlyDictionary<string, int> Sizes
)
{
    public static LineAnswer Of(OrderLine line) =>
        new(line.GarmentId, line.ColourId, line.Counts.ToDictionary(c => c.Size, c => c.Count));
}
