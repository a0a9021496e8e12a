using System.ComponentModel;
using Microsoft.AspNetCore.Mvc;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Web.Api.Answers;
using ProofDesk.Web.Api.Orders;
using ProofDesk.Web.Layout;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Api.Versions;

/// <summary>Whom a version is mailed to.</summary>
public sealed record NewInvitations
{
    [Description("1 to 20 people; each is mailed a link of their own.")]
    public IReadOnlyList<NewRecipient> Recipients { get; init; } = [];

    [Description("The shop's own words above the link, at most 4,000 characters.")]
    [Example("\"Please look at the lettering.\"")]
    public string Note { get; init; } = "";

    [Description("Language of what they sign; en when nothing is said.")]
    [Example("\"en\"")]
    public string Locale { get; init; } = "en";
}

public sealed record NewRecipient
{
    [Example("\"Kim Reed\"")]
    public string Name { get; init; } = "";

    [Example("\"kim@rowing.example\"")]
    public string Email { get; init; } = "";
}

public sealed record InvitationList(IReadOnlyList<InvitationAnswer> Invitations);

/// <summary>A mailed link. The link itself is in the mail only.</summary>
public sealed record InvitationAnswer(
    Guid Id,
    Guid VersionId,
    InvitationPurpose Purpose,
    string Email,
    string Name,
    DateTimeOffset CreatedAt,
    DateTimeOffset ExpiresAt,
    DateTimeOffset? RevokedAt
)
{
    public static InvitationAnswer Of(Invitation link) =>
        new(
            link.Id,
            link.VersionId,
            link.Purpose,
            link.Recipient,
            link.RecipientName,
            link.CreatedAt,
            link.ExpiresAt,
            link.RevokedAt
        );
}

/// <summary>Mails versions to clients. What the client says then is the client's alone: no key can answer for them.</summary>
[Tags("Sending")]
[Route(V1)]
public sealed class InvitationsApi(OfficeDb db, Adapters.Database.Sending sending) : ApiBase
{
    [HttpGet("versions/{id:guid}/invitations")]
    [Needs(Right.Send)]
    [EndpointSummary("Lists the links of a version")]
    [ProducesResponseType<InvitationList>(200, "application/json")]
    public async Task<IActionResult> List(Guid id, CancellationToken cancel) =>
        await db.ProofVersions.AnyAsync(v => v.Id == id, cancel)
            ? Tagged(
                new InvitationList([
                    .. (await Links(id).OrderBy(i => i.CreatedAt).ToListAsync(cancel)).Select(InvitationAnswer.Of),
                ])
            )
            : NotFound();

    [HttpPost("versions/{id:guid}/invitations")]
    [Needs(Right.Send)]
    [Once]
    [TakesJson<NewInvitations>]
    [EndpointSummary("Sends a version")]
    [EndpointDescription(
        "Mails each recipient a link to the version, the same letter the desk sends. Versions sent before are superseded. The answer lists the links that were made, the second approver's among them."
    )]
    [ProducesResponseType<InvitationList>(201, "application/json")]
    [ProducesResponseType<ApiProblem>(409, ApiProblem.MediaType)]
    public async Task<IActionResult> Create(Guid id, CancellationToken cancel)
    {
        if (!await db.ProofVersions.AnyAsync(v => v.Id == id, cancel))
            return NotFound();
        if (!Request.HasJsonContentType())
            return Problem(StatusCodes.Status415UnsupportedMediaType);
        var body = await Bodies.ReadAsync<NewInvitations>(Request, cancel);
        if (body.Value is not { } asked)
            return Mend(body.Mistakes);
        if (!StatementTexts.Locales.Contains(asked.Locale))
            return Mend([
                new(
                    "not-one-of",
                    "/locale",
                    $"There are no sentences in \"{asked.Locale}\".",
                    asked.Locale,
                    string.Join(", ", StatementTexts.Locales),
                    "Send one of these words."
                ),
            ]);
        var result = await sending.SendAsync(
            new(
                id,
                [.. asked.Recipients.Select(r => new LinkRecipient(r.Email.Trim(), r.Name.Trim()))],
                asked.Note.Trim(),
                Actor,
                asked.Locale
            ),
            cancel
        );
        switch (result)
        {
            case SendResult.Sent sent:
                var made = await Links(id).Where(i => sent.InvitationIds.Contains(i.Id)).ToListAsync(cancel);
                return Made(
                    $"{V1}/versions/{id}/invitations",
                    new InvitationList([.. made.OrderBy(i => i.CreatedAt).Select(InvitationAnswer.Of)])
                );
            case SendResult.Unusable unusable:
                return Mend([.. unusable.Problems.Select(Mistaken)]);
            case SendResult.NewerVersionExists newer:
                return Conflicts($"Version {newer.Number} has been sent; an older one cannot follow it.");
            case SendResult.NotFrozen:
                return Conflicts("This version cannot be sent: only a finished, undecided one can.");
            default:
                return NotFound();
        }
    }

    [HttpPost("invitations/{invitationId:guid}/revocation")]
    [Needs(Right.Send)]
    [EndpointSummary("Calls a link back")]
    [EndpointDescription("Its next request finds it closed. Calling back twice is no mistake.")]
    [ProducesResponseType<InvitationAnswer>(200, "application/json")]
    public async Task<IActionResult> Revoke(Guid invitationId, CancellationToken cancel)
    {
        if (!await db.Invitations.AnyAsync(i => i.Id == invitationId, cancel))
            return NotFound();
        await sending.RevokeAsync(invitationId, Actor, cancel);
        var link = await db.Invitations.AsNoTracking().SingleAsync(i => i.Id == invitationId, cancel);
        return Tagged(InvitationAnswer.Of(link));
    }

    private IQueryable<Invitation> Links(Guid versionId) =>
        db.Invitations.AsNoTracking().Where(i => i.VersionId == versionId && i.Purpose != InvitationPurpose.Dispute);

    private ObjectResult Conflicts(string detail) =>
        Problem(StatusCodes.Status409Conflict, "not-to-be-sent", "Not sent", detail);

    private static Mistake Mistaken(string problem) =>
        new(
            "not-to-be-mailed",
            "/recipients",
            Words.Sentence(problem),
            null,
            null,
            "Mend the recipients and send it again; nobody was mailed."
        );
}
