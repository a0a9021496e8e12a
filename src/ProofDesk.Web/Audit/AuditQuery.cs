using System.Globalization;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Web.Audit;

/// <summary>What of the log is asked for; whatever is empty does not narrow.</summary>
public sealed record AuditQuery
{
    public const string Frozen = "version-frozen";

    /// <summary>One of <see cref="Kinds"/>.</summary>
    public string? Kind { get; init; }

    /// <summary>The order's number.</summary>
    public int? Order { get; init; }

    /// <summary>Part of a name or an address.</summary>
    public string? Who { get; init; }
    public DateOnly? From { get; init; }
    public DateOnly? To { get; init; }

    /// <summary>Entries of the log below this one.</summary>
    public long? Before { get; init; }

    /// <summary>Word and words of everything the log holds.</summary>
    public static IReadOnlyList<(string Word, string Says)> Kinds { get; } =
    [
        (Frozen, "version frozen"),
        .. Enum.GetValues<DecisionKind>().Select(kind => (Word(kind), Records.RecordPage.Word(kind))),
        .. Enum.GetValues<EventKind>().Select(kind => (EventJson.Word(kind), Production.Happened.Words(kind))),
    ];

    public static string Word(DecisionKind kind) => $"decision-{StatementJson.Word(kind)}";

    public DecisionKind? Decision =>
        Enum.GetValues<DecisionKind>().Cast<DecisionKind?>().FirstOrDefault(kind => Word(kind!.Value) == Kind);

    public EventKind? Event =>
        Enum.GetValues<EventKind>().Cast<EventKind?>().FirstOrDefault(kind => EventJson.Word(kind!.Value) == Kind);

    /// <summary>The question as the tail of an address, without where in the log it stands.</summary>
    public string Tail(long? before = null)
    {
        var parts = new List<string>();
        void Add(string name, string? value)
        {
            if (!string.IsNullOrEmpty(value))
                parts.Add($"{name}={Uri.EscapeDataString(value)}");
        }
        Add("kind", Kind);
        Add("order", Order?.ToString(CultureInfo.InvariantCulture));
        Add("who", Who);
        Add("from", From?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        Add("to", To?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        Add("before", before?.ToString(CultureInfo.InvariantCulture));
        return parts.Count == 0 ? "" : "?" + string.Join('&', parts);
    }
}

/// <summary>One entry of the log in plain words.</summary>
/// <param name="Kind">as a program reads it</param>
/// <param name="Record">the page that shows it, or null</param>
public sealed record AuditRow(
    long LeafIndex,
    DateTimeOffset At,
    string Kind,
    string What,
    string Who,
    IReadOnlyList<string> Said,
    int? Order,
    string OrderTitle,
    int? Version,
    string LeafSha256,
    string? Record
);

/// <param name="Older">below which entry the next page begins, or null</param>
public sealed record AuditPage(AuditQuery Query, IReadOnlyList<AuditRow> Rows, long? Older, long LogSize);
