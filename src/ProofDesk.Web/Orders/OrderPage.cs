using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Printing.Inks;
using ProofDesk.Web.Inks;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Orders;

public sealed record OrderPage(
    Order Order,
    IReadOnlyList<Decision> Decisions,
    IReadOnlyList<OutboxMail> Mails,
    IReadOnlyList<AuditEvent> Trail,
    RenderView? Work,
    Garments Garments,
    IReadOnlyList<LinkCard> Links,
    ReadVersion? Shown
)
{
    /// <summary>Something was asked for on a page that was out of date, and not done.</summary>
    public bool IsLate { get; init; }

    /// <summary>What happened besides decisions, newest first.</summary>
    public IReadOnlyList<LoggedEvent> Events { get; init; } = [];
    public string Currency { get; init; } = "";

    /// <summary>The evidence an answer must carry.</summary>
    public EvidenceLevel Asked { get; init; } = EvidenceLevel.Link;

    public ProofVersion? Latest => Order.Versions.FirstOrDefault();

    public static string Inks(OrderPrint print) =>
        print.Inks is "" or "auto" ? "as the art asks"
        : int.TryParse(print.Inks, out var count) ? Words.Count(count, "colour", "colours")
        : string.Join(", ", print.Inks.Split(',').Select(id => InkLibrary.Find(id)?.Name ?? OwnName(id)));

    /// <summary>What is said about inks that are chosen; empty when nothing is.</summary>
    public static string InkRules(OrderPrint print)
    {
        if (PrintOptions.Of(print.Options).InkRules is not { } rules)
            return "";
        string Names(IEnumerable<string> ids) =>
            string.Join(", ", ids.Select(id => InkLibrary.Find(id)?.Name ?? OwnName(id)));
        return string.Join(
            "; ",
            new[]
            {
                rules.Must.IsEmpty ? "" : $"must print {Names(rules.Must)}",
                rules.Never.IsEmpty ? "" : $"never {Names(rules.Never)}",
                rules.Order.IsEmpty ? "" : $"in the order {Names(rules.Order)}",
            }.Where(words => words.Length > 0)
        );
    }

    private static string OwnName(string id) =>
        ShopInks.IsOwn(id) ? id[InkDefinition.Prefix.Length..].Replace('-', ' ') + " (your own)" : id;

    public string GroundName(OrderLine line) =>
        Garments.Find(line.GarmentId, line.ColourId) is { } ground
            ? $"{ground.Garment.Name}, {ground.Colour.Name}"
            : $"{line.GarmentId}, {line.ColourId}";
}
