using System.ComponentModel;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Records;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Api.Records;

public sealed record RecordList(
    IReadOnlyList<RecordRow> Records,
    [property: Description("Address of the next page; null on the last one.")] string? Next
);

/// <summary>One decision, the newest first as they stand in the log.</summary>
public sealed record RecordRow(
    Guid Id,
    Guid OrderId,
    [property: Example("1007")] int OrderNumber,
    string OrderTitle,
    Guid VersionId,
    int VersionNumber,
    DecisionKind Kind,
    [property: Description("Name as typed; says so where personal data was erased.")] string Name,
    [property: Description("How strongly it points at the invited person.")] EvidenceLevel Evidence,
    DateTimeOffset At,
    [property: Description("SHA-256 of what was decided on.")] string ManifestSha256,
    [property: Description("SHA-256 of what was said.")] string StatementSha256,
    [property: Description("Its leaf in the log, counted from 0.")] long LeafIndex
)
{
    public static RecordRow Of(Decision said) =>
        new(
            said.Id,
            said.OrderId,
            said.Version!.Order!.Number,
            said.Version.Order.Title,
            said.VersionId,
            said.Version.Number,
            said.Kind,
            KeptStatement.NameOf(said),
            said.EvidenceLevel,
            said.At,
            said.ManifestSha256,
            said.StatementSha256,
            said.LeafIndex
        );
}

/// <summary>A decision with what was said and what vouches for it.</summary>
public sealed record RecordAnswer(
    RecordRow Record,
    [property: Description("It counts: it was not taken back.")] bool Stands,
    [property: Description("From when an approval releases films; null unless it is a standing approval.")]
        DateTimeOffset? ReleasedAt,
    [property: Description("Since when somebody says it was not they; null when nobody does.")]
        DateTimeOffset? DisputedSince,
    [property: Description("What the client asked for or remarked, one a line.")] IReadOnlyList<string> Said,
    [property: Description("What looked like a machine when it came.")] IReadOnlyList<string> Flags,
    [property: Description("The checkpoint of the log that proves it, as c2sp.org/tlog-checkpoint writes it.")]
        string Checkpoint,
    [property: Description("The key that signs the log now.")] string VerifierKey,
    [property: Description("Where the packet is; null when it has none: only approvals have.")] string? Packet
);

/// <summary>What was decided, with packets that prove it without this server.</summary>
[Tags("Records")]
[Route(V1 + "/records")]
[Needs(Right.ReadRecords)]
public sealed class RecordsApi(OfficeDb db, RecordReader records, Adapters.Database.Records store) : ApiBase
{
    [HttpGet("")]
    [EndpointSummary("Lists decisions")]
    [EndpointDescription("The newest first. Taken back ones stay listed, and so does the taking back.")]
    [ProducesResponseType<RecordList>(200, "application/json")]
    public async Task<IActionResult> List([FromQuery] RecordQuery query, CancellationToken cancel)
    {
        if (query.Mistakes().ToList() is [_, ..] mistakes)
            return Mend(mistakes);
        var text = query.Find?.Trim() ?? "";
        var before = query.Before ?? long.MaxValue;
        var order = query.OrderId;
        var rows = await db
            .Decisions.AsNoTracking()
            .Include(d => d.Version)
                .ThenInclude(v => v!.Order)
            .Where(d => d.LeafIndex < before && (order == null || d.OrderId == order))
            .Where(d =>
                text == ""
                || d.Version!.Order!.Title.Contains(text)
                || d.Version.Order.Client!.Name.Contains(text)
                || d.TypedName.Contains(text)
                || d.ManifestSha256.StartsWith(text)
                || d.StatementSha256.StartsWith(text)
            )
            .OrderByDescending(d => d.LeafIndex)
            .Take(query.Rows + 1)
            .ToListAsync(cancel);
        var page = rows.Take(query.Rows).ToList();
        return Tagged(
            new RecordList(
                [.. page.Select(RecordRow.Of)],
                rows.Count > page.Count ? query.NextAddress(V1 + "/records", page[^1].LeafIndex) : null
            )
        );
    }

    [HttpGet("{id:guid}")]
    [EndpointSummary("Reads a decision")]
    [ProducesResponseType<RecordAnswer>(200, "application/json")]
    public async Task<IActionResult> Show(Guid id, CancellationToken cancel)
    {
        if (await records.FindAsync(id, cancel) is not { } page)
            return NotFound();
        var said = page.Decision;
        // Found with its version and order; the row's own navigation is not loaded there.
        said.Version = page.Record.Version;
        return Tagged(
            new RecordAnswer(
                RecordRow.Of(said),
                page.Record.Stands,
                page.Record.ReleasedAt,
                page.Record.DisputedSince,
                said.IsErased ? [] : RecordPage.Said(said).Split('\n', StringSplitOptions.RemoveEmptyEntries),
                said.Flags.Split(' ', StringSplitOptions.RemoveEmptyEntries),
                page.Proof.CheckpointNote,
                page.VerifierKey,
                page.HasPacket ? $"{V1}/records/{id}/packet" : null
            )
        );
    }

    [HttpGet("{id:guid}/packet")]
    [GivesBytes("application/zip")]
    [EndpointSummary("Downloads a packet")]
    [EndpointDescription(
        "Everything that was approved, with films, pictures and the proof that it is in the log, as one ZIP that proves itself offline."
    )]
    public async Task<IActionResult> Packet(Guid id, CancellationToken cancel) =>
        await records.FindAsync(id, cancel) is { HasPacket: true } page ? new PacketResult(page, store) : NotFound();
}

public sealed class RecordQuery : PageQuery
{
    [Description("A part of the order's title, of the client's or the typed name, or the beginning of a digest.")]
    [FromQuery(Name = "find")]
    public string? Find { get; set; }

    [Description("Decisions of this order only, by its id.")]
    [FromQuery(Name = "order")]
    public string? Order { get; set; }

    internal long? Before => long.TryParse(Cursor, out var index) ? index : null;
    internal Guid? OrderId => Guid.TryParse(Order, out var id) ? id : null;

    internal IEnumerable<Mistake> Mistakes()
    {
        if (Order is { Length: > 0 } && OrderId is null)
            yield return Mistaken("order", Order, "the id of an order");
        if (Cursor is { Length: > 0 } && Before is not >= 0)
            yield return Mistaken("cursor", Cursor, "the cursor of an address in next");
        if (WrongLimit() is { } wrong)
            yield return wrong;
    }

    internal string NextAddress(string path, long last) =>
        Address(path, ("find", Find), ("order", Order), ("limit", Limit), ("cursor", $"{last}"));
}
