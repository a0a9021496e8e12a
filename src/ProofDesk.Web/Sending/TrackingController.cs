using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Sending;

/// <param name="Undo">the newest sending, while it can be taken back</param>
/// <param name="Elsewhere">answers that staff wrote down</param>
public sealed record TrackingPage(
    ReadVersion Read,
    IReadOnlyList<TrackedPerson> People,
    TakeableSending? Undo,
    IReadOnlyList<Decision> Elsewhere,
    int RemindAfterDays,
    DateTimeOffset Now
)
{
    /// <summary>It was asked to take the sending back, and it had left.</summary>
    public bool IsLate { get; init; }

    /// <summary>It was asked for a reminder, and none may follow.</summary>
    public bool IsRefused { get; init; }

    /// <summary>Whole seconds until the letters leave, for the page that counts them.</summary>
    public int SecondsLeft => Undo is null ? 0 : Math.Max(1, (int)Math.Ceiling((Undo.LeavesAt - Now).TotalSeconds));
}

/// <summary>Follows what was sent: taken back in time, accepted, bounced, opened, answered, reminded.</summary>
public sealed class TrackingController(
    OfficeDb db,
    VersionReader versions,
    Tracking tracking,
    SendUndo undo,
    Reminding reminding,
    TimeProvider time
) : Controller
{
    [HttpGet("/versions/{id:guid}/tracking")]
    [Needs(Right.SeeClients)]
    public async Task<IActionResult> Show(Guid id, bool late, bool refused, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var elsewhere = await db
            .Decisions.AsNoTracking()
            .Where(d => d.VersionId == id && d.InvitationId == null)
            .OrderBy(d => d.LeafIndex)
            .ToListAsync(cancel);
        var days = await db.Shop.AsNoTracking().Select(shop => shop.RemindAfterDays).SingleAsync(cancel);
        return View(
            "Tracking",
            new TrackingPage(
                read,
                await tracking.OfAsync(id, cancel),
                await undo.FindAsync(id, cancel),
                elsewhere,
                days,
                time.GetUtcNow()
            )
            {
                IsLate = late,
                IsRefused = refused,
            }
        );
    }

    /// <summary>Takes the newest sending of the version back, if none of its letters has begun to leave.</summary>
    [HttpPost("/versions/{id:guid}/send/undo")]
    [Needs(Right.Send)]
    public async Task<IActionResult> TakeBack(Guid id, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is null)
            return NotFound();
        return await undo.TakeBackAsync(id, User.Identity!.Name!, cancel)
            ? Redirect($"/versions/{id}/send?taken=true")
            : Redirect($"/versions/{id}/tracking?late=true");
    }

    /// <summary>The next reminder at once instead of when it would be due.</summary>
    [HttpPost("/invitations/{invitationId:guid}/reminder")]
    [Needs(Right.Send)]
    public async Task<IActionResult> Hurry(Guid invitationId, CancellationToken cancel)
    {
        if (await VersionOfAsync(invitationId, cancel) is not { } version)
            return NotFound();
        return await reminding.HurryAsync(invitationId, User.Identity!.Name!, cancel)
            ? Redirect($"/versions/{version}/tracking")
            : Redirect($"/versions/{version}/tracking?refused=true");
    }

    /// <summary>No further reminders about this order to that address.</summary>
    [HttpPost("/invitations/{invitationId:guid}/no-reminders")]
    [Needs(Right.Send)]
    public async Task<IActionResult> Stop(Guid invitationId, CancellationToken cancel)
    {
        if (await VersionOfAsync(invitationId, cancel) is not { } version)
            return NotFound();
        await reminding.StopAsync(invitationId, User.Identity!.Name!, cancel);
        return Redirect($"/versions/{version}/tracking");
    }

    private Task<Guid?> VersionOfAsync(Guid invitationId, CancellationToken cancel) =>
        db
            .Invitations.Where(row => row.Id == invitationId && row.Purpose != InvitationPurpose.Dispute)
            .Select(row => (Guid?)row.VersionId)
            .SingleOrDefaultAsync(cancel);
}
