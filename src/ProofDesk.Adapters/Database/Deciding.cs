using System.Collections.Immutable;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// Writes a decision: the decision, its slot, its leaf, the checkpoint and both receipts in one transaction, or nothing. The log's
/// lock is taken first, so decisions come one after the other and the rules look at what is true when they write.
/// </summary>
public sealed class Deciding(Office office, OfficeSettings settings, LogKeeper log, Outbox outbox)
{
    public Task<DecisionResult> DecideAsync(DecisionRequest request, CancellationToken cancel = default) =>
        RunAsync((db, after) => DecideAsync(db, request, after, CancellationToken.None), cancel);

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
        if (invitation is null || !Sha256Digest.TryParseHex(request.ManifestSha256, out var seen))
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
        if (version is null)
        {
            return new DecisionResult.Unknown();
        }
        var locale = version.StatementTexts.ContainsKey(request.Locale) ? request.Locale : "en";
        var slot = await SlotAsync(db, version.Id, cancel);
        var said = new DecisionStatement(
            request.Kind,
            seen,
            StatementTexts.Digest(version.StatementTexts[locale]),
            locale,
            request.Confirmed,
            request.TypedName.Trim(),
            invitation.Recipient,
            new Evidence(
                EvidenceLevel.Link,
                invitation.Id.ToString(),
                null,
                Short(request.Agent),
                Network(request.Address)
            ),
            [.. request.Changes],
            request.Kind == DecisionKind.Withdraw && slot is not null && request.Withdraws == slot.DecisionId
                ? Digest(slot.Decision!.StatementSha256)
                : null,
            Empty(request.Comment),
            at,
            request.Nonce,
            [.. RandomNumberGenerator.GetBytes(32)]
        );
        return await JudgeAndWriteAsync(db, said, version, slot, invitation, after, cancel);
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
        return await JudgeAndWriteAsync(
            db,
            said,
            version,
            await SlotAsync(db, version.Id, cancel),
            null,
            after,
            cancel
        );
    }

    private async Task<DecisionResult> JudgeAndWriteAsync(
        OfficeDb db,
        DecisionStatement said,
        ProofVersion version,
        DecisionSlot? slot,
        Invitation? invitation,
        List<string> after,
        CancellationToken cancel
    )
    {
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
            slot?.Decision is { } held
                ? new StandingDecision(Digest(held.StatementSha256), held.Kind, held.TypedName, held.At)
                : null,
            slot?.Decision?.At.AddMinutes(settings.HoldMinutes)
        );
        var refusals = DecisionRules.Judge(said, context);
        if (!refusals.IsEmpty)
        {
            return Answer(refusals, version, slot, newest);
        }
        var decision = await WriteAsync(db, said, version, slot, invitation, after, cancel);
        return new DecisionResult.Recorded(decision.Id, Repeated: false);
    }

    private async Task<Decision> WriteAsync(
        OfficeDb db,
        DecisionStatement said,
        ProofVersion version,
        DecisionSlot? slot,
        Invitation? invitation,
        List<string> after,
        CancellationToken cancel
    )
    {
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
            InvitationId = invitation?.Id,
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
            LeafIndex = leaf.Index,
            At = said.At,
        };
        db.Decisions.Add(decision);
        await db.SaveChangesAsync(cancel);
        Fault.Point("deciding.after-decision");
        if (said.Kind == DecisionKind.Withdraw)
        {
            db.DecisionSlots.Remove(slot!);
        }
        else
        {
            db.DecisionSlots.Add(new DecisionSlot { VersionId = version.Id, DecisionId = id });
        }
        MoveOn(version, said);
        await db.SaveChangesAsync(cancel);
        Fault.Point("deciding.after-slot");
        await MailAsync(db, decision, version, leaf, cancel);
        await db.SaveChangesAsync(cancel);
        Fault.Point("deciding.after-mail");
        after.Add(leaf.CheckpointNote);
        return decision;
    }

    private static void MoveOn(ProofVersion version, DecisionStatement said)
    {
        var withdrawn = said.Kind == DecisionKind.Withdraw;
        version.State = withdrawn ? VersionState.Sent : VersionState.Decided;
        version.DecidedAt = withdrawn ? null : said.At;
        version.Order!.State = said.Kind switch
        {
            DecisionKind.Approve => OrderState.ReadyToBurn,
            DecisionKind.Changes => OrderState.WaitingForUs,
            _ => OrderState.WaitingForThem,
        };
    }

    private async Task MailAsync(
        OfficeDb db,
        Decision decision,
        ProofVersion version,
        SealedLeaf leaf,
        CancellationToken cancel
    )
    {
        var shop = await db.ShopAsync(cancel);
        Attachment[] proof =
        [
            new(
                $"decision-{version.Order!.Number}-{version.Number}.tlog-proof",
                "text/plain",
                Encoding.UTF8.GetBytes(leaf.TlogProof)
            ),
        ];
        var key = log.VerifierKey;
        outbox.Add(
            db,
            New("receipt", decision.Recipient, decision),
            Letters.Receipt(shop, version.Order, version, decision, leaf, key),
            shop,
            proof
        );
        if (MailAddresses.Problem(shop.ReplyTo) is null)
        {
            outbox.Add(
                db,
                New("shop-receipt", shop.ReplyTo, decision),
                Letters.ShopReceipt(shop, version.Order, version, decision, leaf, key),
                shop,
                proof
            );
        }
    }

    private static OutboxMail New(string kind, string recipient, Decision decision) =>
        new()
        {
            OrderId = decision.OrderId,
            VersionId = decision.VersionId,
            DecisionId = decision.Id,
            Kind = kind,
            Recipient = recipient,
            Subject = "",
        };

    private static DecisionResult Answer(
        ImmutableArray<Refusal> refusals,
        ProofVersion version,
        DecisionSlot? slot,
        int? newest
    )
    {
        if (refusals.FirstOrDefault(refusal => refusal.Code is "version-superseded" or "manifest-stale") is { } stale)
        {
            return new DecisionResult.Stale(newest ?? version.Number, stale.Text);
        }
        if (refusals.FirstOrDefault(refusal => refusal.Code == "already-decided") is { } decided)
        {
            var held = slot!.Decision!;
            return new DecisionResult.AlreadyDecided(held.Id, held.TypedName, held.Kind, held.At, decided.Text);
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

    private static Task<DecisionSlot?> SlotAsync(OfficeDb db, Guid versionId, CancellationToken cancel) =>
        db.DecisionSlots.Include(row => row.Decision).SingleOrDefaultAsync(row => row.VersionId == versionId, cancel);

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
