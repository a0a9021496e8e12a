using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Records;

/// <summary>The shop's side of the record: every decision, its page, its packet.</summary>
[Needs(Right.ReadRecords)]
public sealed class RecordsController(OfficeDb db, RecordReader records, Adapters.Database.Records store) : Controller
{
    private const int MostRows = 200;

    [HttpGet("/records")]
    public async Task<IActionResult> Index(string? find, CancellationToken cancel)
    {
        var decisions = db
            .Decisions.AsNoTracking()
            .Include(d => d.Version)
                .ThenInclude(v => v!.Order)
                    .ThenInclude(o => o!.Client);
        var text = find?.Trim() ?? "";
        var words = text.ToLowerInvariant();
        var digits = words.Replace(" ", "", StringComparison.Ordinal);
        // Both engines translate ToLower() and StartsWith(text); neither translates the forms the analyser asks for.
#pragma warning disable CA1304, CA1310, CA1311, CA1862
        var rows = await decisions
            .Where(d =>
                text == ""
                || d.Version!.Order!.Number.ToString() == words
                || d.Version.Order.Title.ToLower().Contains(words)
                || d.Version.Order.Client!.Name.ToLower().Contains(words)
                || d.TypedName.ToLower().Contains(words)
                || d.ManifestSha256.StartsWith(digits)
                || d.StatementSha256.StartsWith(digits)
            )
            .OrderByDescending(d => d.LeafIndex)
            .Take(MostRows)
            .ToListAsync(cancel);
#pragma warning restore CA1304, CA1310, CA1311, CA1862
        return View("Records", new RecordsPage(text, rows));
    }

    [HttpGet("/records/{id:guid}")]
    public async Task<IActionResult> Show(Guid id, CancellationToken cancel) =>
        await records.FindAsync(id, cancel) is { } page ? View("Record", page) : NotFound();

    [HttpGet("/packets/{id:guid}")]
    public async Task<IActionResult> Packet(Guid id, CancellationToken cancel) =>
        await records.FindAsync(id, cancel) is { HasPacket: true } page ? new PacketResult(page, store) : NotFound();
}

public sealed record RecordsPage(string Find, IReadOnlyList<Decision> Rows);
