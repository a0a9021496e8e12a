using System.Collections.Immutable;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// Writes a decision: the decision, its seat, its leaf, the checkpoint and both receipts in one transaction, or nothing. The log's
/// lock is taken first, so decisions come one after the other and the rules look at what is true when they write.
/// </summary>
public sealed class Deciding(
    Office office,
    OfficeSettings settings,
    LogKeeper log,
    Outbox outbox,
    MailedCodes codes,
    Receipts receipts,
    Flagging flagging
)
{
    public async Task<DecisionResult> DecideAsync(DecisionRequest request, CancellationToken cancel = default)
    {
        var guess = await codes.GuessAsync(request.InvitationId, request.Code, cancel);
        return await RunAsync((db, after) => DecideAsync(db, request, guess, after, CancellationToken.None), cancel);
    }

    /// <summary>Writes down a decision that staff was told. Its level says so on the record.</summary>
    public Task<DecisionResult> RecordElsewhereAsync(ElsewhereRequest request, CancellationToken cancel = default) =>
        RunAsync((db, after) => RecordElsewhereAsync(db, request, after, CancellationToken.None), cancel);

    private async Task<DecisionResult> RunAsync(
        Func<OfficeDb, List<string>, Task<DecisionResult>> work,
        CancellationToken cancel
    )
    {
        // The client may go away, the decision may not stop halfway: only waiting for the turn can be cancelled.
        var notes = new List<string>();
        var result = await office.WriteAsync(
            db =>
            {
                notes.Clear();
                return work(db, notes);
            },
            cancel
        );
        Fault.Point("deciding.after-commit");
        foreach (var note in notes)
        {
            await log.PublishAsync(note, CancellationToken.None);
        }
        outbox.Ring();
        return result;
    }

    private async Task<DecisionResult> DecideAsync(
        OfficeDb db,
        DecisionRequest request,
        CodeGuess? guess,
        List<string> after,
        CancellationToken cancel
    )
    {
        var at = await log.TakeAsync(db, cancel);
        if (await RepeatedAsync(db, request.Nonce, cancel) is { } repeated)
        {
            return repeated;
        }
        var invitation = await db
            .Invitations.AsNoTracking()
            .SingleOrDefaultAsync(row => row.Id == request.InvitationId, cancel);
        if (
            invitation is null or { Purpose: InvitationPurpose.Dispute }
            || !Sha256Digest.TryParseHex(request.ManifestSha256, out var seen)
        )
        {
            return new DecisionResult.Unknown();
        }
        if (Invitations.GoneSince(invitation, at) is { } gone)
        {
            return new DecisionResult.LinkGone(gone.Revoked, gone.Since);
        }
        var version = await db
            .ProofVersions.Include(row => row.Order)
                .ThenInclude(order => order!.Client)
            .Where(row => row.OrderId == invitation.OrderId && row.SentAt != null)
            .OrderByDescending(row => row.Number)
            .FirstOrDefaultAsync(cancel);
        if (version is null || request.ForSample && !await IsSampleMadeAsync(db, version.Id, cancel))
        {
            return new DecisionResult.Unknown();
        }
        var locale = version.StatementTexts.ContainsKey(request.Locale) ? request.Locale : "en";
        var seat = Seats.Of(invitation, request.ForSample);
        var held = await Seats.StandingAsync(db, version.Id, seat, cancel);
        var asked = EvidenceAsked.Of(version.Order!, await db.ShopAsync(cancel));
        var code = asked == EvidenceLevel.Code ? await MailedCodes.TryAsync(db, guess, version.Id, at, cancel) : null;
        var isRight = code is CodeTry.Right;
        var said = new DecisionStatement(
            request.Kind,
            seen,
            StatementTexts.Digest(version.StatementTexts[locale]),
            locale,
            request.Confirmed,
            request.TypedName.Trim(),
            invitation.Recipient,
            new Evidence(
                isRight ? EvidenceLevel.Code : EvidenceLevel.Link,
                invitation.Id.ToString(),
                isRight ? at : null,
                Short(request.Agent),
                Network(request.Address)
            ),
            [.. request.Changes],
            request.Kind == DecisionKind.Withdraw && held is not null && request.Withdraws == held.Id
                ? Digest(held.StatementSha256)
                : null,
            request.ForSample ? $"About the printed sample. {request.Comment}".Trim() : Empty(request.Comment),
            at,
            request.Nonce,
            [.. RandomNumberGenerator.GetBytes(32)]
        );
        var answer = new Answer(said, version, seat, held, invitation, asked, code, request.Signs ?? []);
        var result = await JudgeAndWriteAsync(db, answer, after, cancel);
        if (isRight && result is DecisionResult.Recorded)
        {
            await MailedCodes.UseAsync(db, guess!, at, cancel);
        }
        if (result is DecisionResult.AlreadyDecided)
        {
            after.AddRange(await flagging.BothAnswersAsync(db, held!, said, invitation, version.Order!, cancel));
        }
        return result;
    }

    private async Task<DecisionResult> RecordElsewhereAsync(
        OfficeDb db,
        ElsewhereRequest request,
        List<string> after,
        CancellationToken cancel
    )
    {
        var at = await log.TakeAsync(db, cancel);
        if (await RepeatedAsync(db, request.Nonce, cancel) is { } repeated)
        {
            return repeated;
        }
        var version = await db
            .ProofVersions.Include(row => row.Order)
                .ThenInclude(order => order!.Client)
            .SingleOrDefaultAsync(row => row.Id == request.VersionId, cancel);
        if (version?.ManifestSha256 is null || !Sha256Digest.TryParseHex(version.ManifestSha256, out var manifest))
        {
            return new DecisionResult.Unknown();
        }
        Sha256Digest? file =
            request.FileSha256 is { } hex && Sha256Digest.TryParseHex(hex, out var digest) ? digest : null;
        var said = new DecisionStatement(
            request.Kind,
            manifest,
            StatementTexts.Digest(version.StatementTexts["en"]),
            "en",
            request.Kind == DecisionKind.Approve ? Confirmations.All : Confirmations.None,
            request.ClientName.Trim(),
            version.Order!.Client!.Email,
            new Evidence(
                EvidenceLevel.GivenElsewhere,
                version.Id.ToString(),
                Elsewhere: new GivenElsewhere(request.Staff, request.How, request.GivenAt, file)
            ),
            [.. request.Changes],
            null,
            Empty(request.Comment),
            at,
            request.Nonce,
            [.. RandomNumberGenerator.GetBytes(32)]
        );
        var held = await Seats.StandingAsync(db, version.Id, null, cancel);
        var answer = new Answer(said, version, null, held, null, EvidenceLevel.Link, null, []);
        return await JudgeAndWriteAsync(db, answer, after, cancel);
    }

    /// <summary>What somebody said, and what stood when it came.</summary>
    /// <param name="Seat">null: the answer that decides</param>
    /// <param name="Held">the answer that has the seat already</param>
    private sealed record Answer(
        DecisionStatement Said,
        ProofVersion Version,
        AnswerSeat? Seat,
        Decision? Held,
        Invitation? Invitation,
        EvidenceLevel Asked,
        CodeTry? Code,
        IReadOnlyList<string> Signs
    );

    private async Task<DecisionResult> JudgeAndWriteAsync(
        OfficeDb db,
        Answer answer,
        List<string> after,
        CancellationToken cancel
    )
    {
        var (version, held, invitation) = (answer.Version, answer.Held, answer.Invitation);
        var newest = await db
            .ProofVersions.Where(row =>
                row.OrderId == version.OrderId && row.Number > version.Number && row.SentAt != null
            )
            .MaxAsync(row => (int?)row.Number, cancel);
        var context = new DecisionContext(
            Digest(version.ManifestSha256!),
            version.StatementTexts.ToImmutableSortedDictionary(
                text => text.Key,
                text => StatementTexts.Digest(text.Value),
                StringComparer.Ordinal
            ),
            version.Number,
            version.SentAt is not null,
            newest,
            invitation?.ExpiresAt ?? DateTimeOffset.MaxValue,
            invitation?.RevokedAt is not null,
            held is null
                ? null
                : new StandingDecision(Digest(held.StatementSha256), held.Kind, held.TypedName, held.At),
            held?.At.AddMinutes(settings.HoldMinutes),
            answer.Asked,
            answer.Code
        );
        var refusals = DecisionRules.Judge(answer.Said, context);
        if (!refusals.IsEmpty)
        {
            return Refused(refusals, version, held, newest);
        }
        var decision = await WriteAsync(db, answer, after, cancel);
        return new DecisionResult.Recorded(decision.Id, Repeated: false);
    }

    private async Task<Decision> WriteAsync(OfficeDb db, Answer answer, List<string> after, CancellationToken cancel)
    {
        var (said, version) = (answer.Said, answer.Version);
        var bytes = StatementJson.Write(said);
        var digest = Sha256Digest.Of(bytes);
        var id = Guid.CreateVersion7(said.At);
        Fault.Point("deciding.before-leaf");
        var leaf = await log.AppendAsync(db, LeafType.Decision, digest, id, said.At, cancel);
        Fault.Point("deciding.after-leaf");
        var decision = new Decision
        {
            Id = id,
            OrderId = version.OrderId,
            VersionId = version.Id,
            InvitationId = answer.Invitation?.Id,
            Kind = said.Kind,
            Nonce = said.Nonce,
            TypedName = said.Name,
            Recipient = said.Invited,
            EvidenceLevel = said.Evidence.Level,
            Comment = said.Comment ?? "",
            ManifestSha256 = said.Manifest.Hex,
            StatementBytes = bytes,
            StatementSha256 = digest.Hex,
            StatementText = version.StatementTexts[said.Locale],
            Flags = string.Join(' ', answer.Signs),
            LeafIndex = leaf.Index,
            At = said.At,
        };
        db.Decisions.Add(decision);
        await db.SaveChangesAsync(cancel);
        Fault.Point("deciding.after-decision");
        await Seats.TakeAsync(db, version.Id, answer.Seat, decision, cancel);
        await db.SaveChangesAsync(cancel);
        await MoveOnAsync(db, version, said, answer.Seat, cancel);
        await db.SaveChangesAsync(cancel);
        Fault.Point("deciding.after-slot");
        await receipts.AddAsync(db, decision, version, answer.Invitation, leaf, cancel);
        await db.SaveChangesAsync(cancel);
        Fault.Point("deciding.after-mail");
        after.Add(leaf.CheckpointNote);
        if (answer.Signs.Count > 0)
        {
            after.Add(await flagging.FlagAsync(db, decision, version.Order!, answer.Signs, cancel));
        }
        return decision;
    }

    private static async Task MoveOnAsync(
        OfficeDb db,
        ProofVersion version,
        DecisionStatement said,
        AnswerSeat? seat,
        CancellationToken cancel
    )
    {
        if (seat is null)
        {
            var withdrawn = said.Kind == DecisionKind.Withdraw;
            version.State = withdrawn ? VersionState.Sent : VersionState.Decided;
            version.DecidedAt = withdrawn ? null : said.At;
        }
        version.Order!.State = await Seats.TurnAsync(db, version, cancel);
    }

    private static DecisionResult Refused(
        ImmutableArray<Refusal> refusals,
        ProofVersion version,
        Decision? held,
        int? newest
    )
    {
        if (refusals.FirstOrDefault(refusal => refusal.Code is "version-superseded" or "manifest-stale") is { } stale)
        {
            return new DecisionResult.Stale(newest ?? version.Number, stale.Text);
        }
        if (refusals.FirstOrDefault(refusal => refusal.Code == "already-decided") is { } decided)
        {
            return new DecisionResult.AlreadyDecided(held!.Id, held.TypedName, held.Kind, held.At, decided.Text);
        }
        return new DecisionResult.Incomplete(refusals);
    }

    private static async Task<DecisionResult?> RepeatedAsync(OfficeDb db, string nonce, CancellationToken cancel)
    {
        var before = await db
            .Decisions.Where(row => row.Nonce == nonce)
            .Select(row => (Guid?)row.Id)
            .SingleOrDefaultAsync(cancel);
        return before is { } id ? new DecisionResult.Recorded(id, Repeated: true) : null;
    }

    private static Task<bool> IsSampleMadeAsync(OfficeDb db, Guid versionId, CancellationToken cancel) =>
        db.LoggedEvents.AnyAsync(row => row.VersionId == versionId && row.Kind == EventKind.SampleMade, cancel);

    private static Sha256Digest Digest(string hex) =>
        Sha256Digest.TryParseHex(hex, out var digest)
            ? digest
            : throw new InvalidDataException($"\"{hex}\" in the database is not a SHA-256 in 64 lower-case hex digits");

    private static string? Empty(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    private static string? Short(string? agent) => Empty(agent) is { } text ? text[..Math.Min(text.Length, 500)] : null;

    /// <summary>The network an address is in (/24 or /48): enough to tell an office from a scanner, less than a person.</summary>
    private static string? Network(IPAddress? address)
    {
        if (address is null)
        {
            return null;
        }
        var plain = address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address;
        var (kept, prefix) = plain.AddressFamily == AddressFamily.InterNetwork ? (3, 24) : (6, 48);
        var bytes = plain.GetAddressBytes();
        bytes.AsSpan(kept).Clear();
        return $"{new IPAddress(bytes)}/{prefix}";
    }
}
