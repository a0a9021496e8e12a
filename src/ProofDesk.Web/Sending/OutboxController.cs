using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Sending;

public sealed record OutboxPage(IReadOnlyList<OutboxMail> Mails, MailSettings Mail);

public sealed record MailPage(OutboxMail Mail, string? Text);

/// <summary>What went out, what waits, and what could not be delivered.</summary>
public sealed class OutboxController(OfficeDb db, Outbox outbox, OfficeSettings settings, PersonAtDesk person)
    : Controller
{
    private const int MostRows = 200;

    /// <summary>A colleague's invitation makes an account: who reads it could take it, a higher role among it.</summary>
    private bool IsForOwners(OutboxMail mail) =>
        mail.Kind == StaffInvitations.LetterKind && !person.May(Right.KeepPeople);

    [HttpGet("/outbox")]
    [Needs(Right.ReadHouse)]
    public async Task<IActionResult> Index(CancellationToken cancel)
    {
        var mails = await db
            .OutboxMails.AsNoTracking()
            .OrderByDescending(m => m.CreatedAt)
            .Take(MostRows)
            .ToListAsync(cancel);
        return View("Outbox", new OutboxPage(mails, settings.Mail));
    }

    [HttpGet("/outbox/{id:guid}")]
    [Needs(Right.Send)]
    public async Task<IActionResult> Show(Guid id, CancellationToken cancel)
    {
        var mail = await db.OutboxMails.AsNoTracking().FirstOrDefaultAsync(m => m.Id == id, cancel);
        return mail is null || IsForOwners(mail)
            ? NotFound()
            : View("Mail", new MailPage(mail, await outbox.TextOfAsync(id, cancel)));
    }

    [HttpPost("/outbox/{id:guid}/retry")]
    [Needs(Right.Send)]
    public async Task<IActionResult> Retry(Guid id, CancellationToken cancel)
    {
        var mail = await db.OutboxMails.AsNoTracking().FirstOrDefaultAsync(m => m.Id == id, cancel);
        if (mail is null || IsForOwners(mail))
            return NotFound();
        await outbox.TryAgainAsync(id, User.Identity!.Name!, cancel);
        return Redirect($"/outbox/{id}");
    }
}
