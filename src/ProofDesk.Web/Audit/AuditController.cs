using System.Text;
using Microsoft.AspNetCore.Mvc;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Audit;

/// <summary>The whole log in plain words, for owners and auditors. Reading it writes nothing.</summary>
[Needs(Right.ReadAudit)]
public sealed class AuditController(AuditTrail trail) : Controller
{
    public const int RowsOnPage = 50;
    private const int RowsAtOnce = 500;

    [HttpGet("/audit")]
    public async Task<IActionResult> Show(AuditQuery query, CancellationToken cancel)
    {
        var rows = await trail.ReadAsync(query, RowsOnPage + 1, cancel);
        var page = rows.Take(RowsOnPage).ToList();
        return View(
            "Audit",
            new AuditPage(
                query,
                page,
                rows.Count > RowsOnPage ? page[^1].LeafIndex : null,
                await trail.SizeAsync(cancel)
            )
        );
    }

    [HttpGet("/audit.csv")]
    public Task<IActionResult> Csv(AuditQuery query, CancellationToken cancel) =>
        FileAsync(query, "text/csv; charset=utf-8", "csv", AuditFiles.Head, AuditFiles.Csv, cancel);

    [HttpGet("/audit.jsonl")]
    public Task<IActionResult> JsonLines(AuditQuery query, CancellationToken cancel) =>
        FileAsync(query, "application/jsonl; charset=utf-8", "jsonl", "", AuditFiles.JsonLine, cancel);

    private async Task<IActionResult> FileAsync(
        AuditQuery query,
        string type,
        string ending,
        string head,
        Func<AuditRow, string> line,
        CancellationToken cancel
    )
    {
        Response.ContentType = type;
        Response.Headers.ContentDisposition = $"attachment; filename=\"audit.{ending}\"";
        await using var text = new StreamWriter(Response.Body, new UTF8Encoding(false), leaveOpen: true);
        await text.WriteAsync(head);
        for (var part = query; ; )
        {
            var rows = await trail.ReadAsync(part, RowsAtOnce, cancel);
            foreach (var row in rows)
                await text.WriteAsync(line(row));
            await text.FlushAsync(cancel);
            if (rows.Count < RowsAtOnce)
                return new EmptyResult();
            part = part with { Before = rows[^1].LeafIndex };
        }
    }
}
