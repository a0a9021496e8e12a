using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Operations;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Operations;

/// <summary>
/// For load balancers and collectors. The two probes say one word and are open to all; the numbers are for staff, and for this
/// machine on the port of its own.
/// </summary>
public sealed class ProbesController(
    OfficeDb db,
    MeasuredNumbers numbers,
    DiskReserve reserve,
    ServerSettings settings,
    PersonAtDesk person,
    TimeProvider time
) : Controller
{
    private const string OpenMetrics = "application/openmetrics-text; version=1.0.0; charset=utf-8";

    /// <summary>The process answers.</summary>
    [AllowAnonymous, HttpGet("/live")]
    public IActionResult Live() => Content("alive\n", "text/plain");

    /// <summary>The database answers too: send visitors here.</summary>
    [AllowAnonymous, HttpGet("/ready")]
    public async Task<IActionResult> Ready(CancellationToken cancel)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        patience.CancelAfter(TimeSpan.FromSeconds(2));
        try
        {
            await db.LogHeads.AsNoTracking().SingleAsync(patience.Token);
            return Content("ready\n", "text/plain");
        }
        catch (Exception failure) when (failure is not OperationCanceledException || !cancel.IsCancellationRequested)
        {
            return new ContentResult
            {
                Content = "not ready\n",
                ContentType = "text/plain",
                StatusCode = StatusCodes.Status503ServiceUnavailable,
            };
        }
    }

    [AllowAnonymous, HttpGet("/metrics")]
    public async Task<IActionResult> Metrics(CancellationToken cancel)
    {
        var local = settings.MetricsPort > 0 && HttpContext.Connection.LocalPort == settings.MetricsPort;
        if (!local && !person.May(Right.ReadHouse))
            return User.Identity?.IsAuthenticated == true ? NotFound() : Challenge();
        return Content(numbers.Text(await GaugesAsync(cancel)), OpenMetrics);
    }

    private async Task<List<(string Name, string Help, double Value)>> GaugesAsync(CancellationToken cancel)
    {
        var now = time.GetUtcNow();
        var mails = await db
            .OutboxMails.GroupBy(m => m.State)
            .Select(g => new { g.Key, Many = g.Count() })
            .ToListAsync(cancel);
        var oldest = await db
            .OutboxMails.Where(m => m.State == MailState.Waiting || m.State == MailState.Paused)
            .OrderBy(m => m.CreatedAt)
            .Select(m => (DateTimeOffset?)m.CreatedAt)
            .FirstOrDefaultAsync(cancel);
        int Mails(params MailState[] states) => mails.Where(m => states.Contains(m.Key)).Sum(m => m.Many);
        return
        [
            ("proofdesk_log_leaves", "Entries of the log.", await db.LogHeads.Select(h => h.Size).SingleAsync(cancel)),
            (
                "proofdesk_mails_waiting",
                "Letters that wait or are being sent.",
                Mails(MailState.Waiting, MailState.Sending)
            ),
            (
                "proofdesk_mails_stuck",
                "Letters somebody must look at: bounced, paused, uncertain.",
                Mails(MailState.Bounced, MailState.Paused, MailState.Uncertain)
            ),
            (
                "proofdesk_mail_oldest_wait_seconds",
                "Age of the oldest letter that waits.",
                oldest is { } since ? Math.Max(0, (now - since).TotalSeconds) : 0
            ),
            (
                "proofdesk_renders_waiting",
                "Renders that wait.",
                await db.RenderWork.CountAsync(r => r.State == RenderState.Ready, cancel)
            ),
            (
                "proofdesk_renders_running",
                "Renders that run.",
                await db.RenderWork.CountAsync(r => r.State == RenderState.Running, cancel)
            ),
            ("proofdesk_disk_free_bytes", "Free room on the disk of the data folder.", reserve.FreeBytes),
            (
                "proofdesk_disk_reserve_held",
                "1 while room is kept back for decisions, 0 when it was needed.",
                reserve.Held ? 1 : 0
            ),
            ("process_working_set_bytes", "Memory of the process.", Environment.WorkingSet),
        ];
    }
}
