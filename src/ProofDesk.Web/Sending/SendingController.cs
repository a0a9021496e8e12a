using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Proofs;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Sending;

public sealed class SendForm
{
    /// <summary>One address a line, "Name &lt;address&gt;" or the address alone.</summary>
    public string? Recipients { get; set; }
    public string? Note { get; set; }

    /// <summary>Language of the sentences the recipients sign.</summary>
    public string? Locale { get; set; }

    /// <summary>"preview" or "send".</summary>
    public string? Act { get; set; }
}

/// <param name="From">as the letter's head says it</param>
public sealed record SendPage(
    ReadVersion Read,
    SendForm Form,
    Letter? Letter,
    IReadOnlyList<Invitation> Links,
    string From,
    string ReplyTo,
    string SecondApprover,
    int UndoSeconds
)
{
    /// <summary>The sending before this one was taken back.</summary>
    public bool WasTakenBack { get; init; }
}

/// <summary>Mails a finished version: who, the shop's own words, and the letter exactly as it will be stored.</summary>
[Needs(Right.Send)]
[Route("/versions/{id:guid}/send")]
public sealed partial class SendingController(
    OfficeDb db,
    VersionReader versions,
    Adapters.Database.Sending sending,
    OfficeSettings settings
) : Controller
{
    [HttpGet("")]
    public async Task<IActionResult> New(Guid id, bool taken, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        var client = await db.Clients.AsNoTracking().FirstAsync(c => c.Id == read.Version.Order!.ClientId, cancel);
        return await PageAsync(read, new SendForm { Recipients = $"{client.Name} <{client.Email}>" }, cancel, taken);
    }

    [HttpPost("")]
    public async Task<IActionResult> Create(Guid id, SendForm form, CancellationToken cancel)
    {
        if (await versions.FindAsync(id, cancel) is not { } read)
            return NotFound();
        if (form.Act != "send")
            return await PageAsync(read, form, cancel);
        var result = await sending.SendAsync(Ask(id, form), cancel);
        switch (result)
        {
            case SendResult.Sent:
                return Redirect($"/versions/{id}/tracking");
            case SendResult.Unusable unusable:
                foreach (var problem in unusable.Problems)
                    ModelState.AddModelError("Recipients", Words.Sentence(problem));
                break;
            case SendResult.NewerVersionExists newer:
                ModelState.AddModelError("", $"Version {newer.Number} has been sent; an older one cannot follow it.");
                break;
            default:
                ModelState.AddModelError("", "This version cannot be sent: only a finished, undecided one can.");
                break;
        }
        this.ToMend();
        return await PageAsync(read, form, cancel);
    }

    /// <summary>Calls a link back; its next request finds it closed.</summary>
    [HttpPost("/invitations/{invitationId:guid}/revocation")]
    public async Task<IActionResult> Revoke(Guid invitationId, CancellationToken cancel)
    {
        var invitation = await db.Invitations.AsNoTracking().FirstOrDefaultAsync(i => i.Id == invitationId, cancel);
        if (invitation is null)
            return NotFound();
        await sending.RevokeAsync(invitationId, User.Identity!.Name!, cancel);
        return Redirect($"/versions/{invitation.VersionId}/send");
    }

    private async Task<IActionResult> PageAsync(
        ReadVersion read,
        SendForm form,
        CancellationToken cancel,
        bool taken = false
    )
    {
        var letter = await sending.PreviewAsync(Ask(read.Version.Id, form), cancel);
        var links = await db
            .Invitations.AsNoTracking()
            .Where(i => i.OrderId == read.Version.OrderId && i.Purpose != InvitationPurpose.Dispute)
            .OrderByDescending(i => i.CreatedAt)
            .ToListAsync(cancel);
        var shop = await db.Shop.AsNoTracking().SingleAsync(cancel);
        return View(
            "Send",
            new SendPage(
                read,
                form,
                letter,
                links,
                $"{shop.Name} <{settings.Mail.From}>",
                shop.ReplyTo,
                read.Version.Order!.SecondApprover,
                settings.UndoSeconds
            )
            {
                WasTakenBack = taken,
            }
        );
    }

    private SendRequest Ask(Guid versionId, SendForm form) =>
        new(
            versionId,
            [.. Parse(form.Recipients ?? "")],
            form.Note?.Trim() ?? "",
            User.Identity!.Name!,
            Known(form.Locale)
        );

    private static string Known(string? locale) =>
        // Empty leaves it to the browser of whoever opens the link.
        Approvals.Decisions.StatementTexts.Locales.Contains(locale)
            ? locale!
            : "";

    private static IEnumerable<LinkRecipient> Parse(string text)
    {
        foreach (
            var line in text.Split(['\n', ';'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
        )
        {
            var match = NameAndAddress().Match(line);
            yield return match.Success
                ? new LinkRecipient(match.Groups["address"].Value.Trim(), match.Groups["name"].Value.Trim(' ', '"'))
                : new LinkRecipient(line);
        }
    }

    [GeneratedRegex(
        "^(?<name>[^<>]*)<(?<address>[^<>]+)>$",
        RegexOptions.ExplicitCapture,
        matchTimeoutMilliseconds: 1000
    )]
    private static partial Regex NameAndAddress();
}
