using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Operations;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Desk;

public sealed record HealthPage(
    bool ShutIn,
    string Uploads,
    string Pages,
    string Mail,
    int MailsWaiting,
    int MailsStuck,
    int RendersWaiting,
    int RendersRunning,
    string Database,
    bool RoomKept,
    long FreeMegabytes,
    long Leaves
);

/// <summary>How the server is, for staff: what is shut in, what waits, what is stuck.</summary>
[Needs(Right.ReadHouse)]
public sealed class HealthController(
    OfficeDb db,
    Office office,
    OfficeSettings settings,
    DiskReserve reserve,
    ArtDecoder decoder
) : Controller
{
    [HttpGet("/health")]
    public async Task<IActionResult> Show(CancellationToken cancel) =>
        View(
            "Health",
            new HealthPage(
                decoder.Sandbox.ShutIn,
                decoder.Sandbox.Description,
                decoder.PdfPrograms.Description,
                settings.Mail.UsesPickup
                    ? "no mail server is set; letters are files in the pickup folder"
                    : $"letters leave through {settings.Mail.Host}",
                await db.OutboxMails.CountAsync(
                    m => m.State == MailState.Waiting || m.State == MailState.Sending,
                    cancel
                ),
                await db.OutboxMails.CountAsync(
                    m => m.State != MailState.Waiting && m.State != MailState.Sending && m.State != MailState.Sent,
                    cancel
                ),
                await db.RenderWork.CountAsync(r => r.State == RenderState.Ready, cancel),
                await db.RenderWork.CountAsync(r => r.State == RenderState.Running, cancel),
                office.IsSqlite ? "SQLite, a file in the data folder" : "PostgreSQL",
                reserve.Held,
                reserve.FreeBytes / 1_000_000,
                await db.LogLeaves.LongCountAsync(cancel)
            )
        );
}
