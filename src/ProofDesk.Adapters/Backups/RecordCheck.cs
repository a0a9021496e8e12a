using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Backups;

/// <summary>Frozen versions, decisions and events: bytes against digest, digest against leaf, every column against the bytes.</summary>
internal sealed class RecordCheck(OfficeDb db, StoreFindings found, WantedFiles wanted)
{
    private readonly Dictionary<Guid, (Guid Order, string? Manifest, VersionState State)> _versions = [];

    public async Task VersionsAsync(LogCheck log, CancellationToken cancel)
    {
        var files = (await db.VersionFiles.AsNoTracking().ToListAsync(cancel)).ToLookup(file => file.VersionId);
        var numbers = await db
            .Orders.Select(row => new { row.Id, row.Number })
            .ToDictionaryAsync(o => o.Id, o => o.Number, cancel);
        await foreach (
            var version in db
                .ProofVersions.AsNoTracking()
                .OrderBy(row => row.Id)
                .AsAsyncEnumerable()
                .WithCancellation(cancel)
        )
        {
            _versions[version.Id] = (version.OrderId, version.ManifestSha256, version.State);
            if (
                version.ManifestBytes is not { } bytes
                || version.ManifestSha256 is null
                || version.FreezeLeafIndex is not { } index
            )
            {
                if (version.State is not (VersionState.Draft or VersionState.Rendering or VersionState.Failed))
                {
                    found.Wrong("version.unsealed", $"version {version.Id} is {version.State} without a manifest");
                }
                continue;
            }
            found.Count("versions");
            var what = $"version {version.Number} of order {numbers.GetValueOrDefault(version.OrderId)} ({version.Id})";
            log.Claim(index, LeafType.Freeze, version.ManifestSha256, version.Id, version.FrozenAt, what);
            if (!Hashes(bytes, version.ManifestSha256, what, "manifest"))
            {
                continue;
            }
            Compare(
                ManifestJson.Parse(bytes),
                version,
                numbers.GetValueOrDefault(version.OrderId),
                [.. files[version.Id]],
                what
            );
        }
    }

    public async Task DecisionsAsync(LogCheck log, CancellationToken cancel)
    {
        var statements = new HashSet<string>(StringComparer.Ordinal);
        var all = new Dictionary<Guid, Decision>();
        // Read first: PostgreSQL answers one question at a time on a connection.
        var erased = await db
            .LoggedEvents.Where(row => row.Kind == EventKind.PersonalDataErased && row.SubjectId != null)
            .Select(row => row.SubjectId!.Value)
            .ToHashSetAsync(cancel);
        await foreach (
            var decision in db
                .Decisions.AsNoTracking()
                .OrderBy(row => row.LeafIndex)
                .AsAsyncEnumerable()
                .WithCancellation(cancel)
        )
        {
            found.Count("decisions");
            var what = $"decision {decision.Id}";
            statements.Add(decision.StatementSha256);
            log.Claim(decision.LeafIndex, LeafType.Decision, decision.StatementSha256, decision.Id, decision.At, what);
            var version = _versions.GetValueOrDefault(decision.VersionId);
            if (version.Order != decision.OrderId || !Same(version.Manifest, decision.ManifestSha256))
            {
                found.Wrong("decision.other", $"{what} is not of the version and order its row names");
            }
            if (decision.StatementBytes.Length == 0)
            {
                if (!erased.Contains(decision.Id))
                {
                    found.Wrong("decision.emptied", $"{what} was emptied, and no event of the log says so");
                }
            }
            else if (Hashes(decision.StatementBytes, decision.StatementSha256, what, "statement"))
            {
                Compare(StatementJson.Parse(decision.StatementBytes), decision, statements, what);
            }
            decision.StatementBytes = [];
            all[decision.Id] = decision;
        }
        await SlotsAsync(all, cancel);
    }

    public async Task EventsAsync(LogCheck log, CancellationToken cancel)
    {
        await foreach (
            var row in db
                .LoggedEvents.AsNoTracking()
                .OrderBy(row => row.LeafIndex)
                .AsAsyncEnumerable()
                .WithCancellation(cancel)
        )
        {
            found.Count("events");
            var what = $"event {row.Id}";
            var kept = Hashes(row.EventBytes, row.EventSha256, what, "event");
            if (!kept)
            {
                continue;
            }
            var happened = EventJson.Parse(row.EventBytes);
            log.Claim(row.LeafIndex, happened.Family, row.EventSha256, row.Id, row.At, what);
            var manifest = row.VersionId is { } id ? _versions.GetValueOrDefault(id).Manifest : null;
            Agree(
                what,
                ("kind", happened.Kind == row.Kind),
                ("person", Same(happened.By, row.Actor)),
                ("time", happened.At == row.At),
                ("version", happened.Manifest is not { } bound || Same(bound.Hex, manifest)),
                (
                    "order",
                    row.VersionId is not { } of
                        || row.OrderId is null
                        || row.OrderId == _versions.GetValueOrDefault(of).Order
                )
            );
            foreach (var fact in happened.Facts)
            {
                wanted.AddFact(fact.Key, fact.Value, what);
            }
        }
    }

    private void Compare(Manifest manifest, ProofVersion version, int orderNumber, List<VersionFile> files, string what)
    {
        var bound = manifest
            .Files.Select(file => (file.Path, file.Role, file.MediaType, file.Bytes, file.Sha256.Hex, file.Sha512Hex))
            .ToHashSet();
        var rows = files
            .Select(file => (file.Path, file.Role, file.MediaType, file.Bytes, file.Sha256, file.Sha512))
            .ToHashSet();
        foreach (
            var (path, _, _, _, _, _) in bound.Except(rows).Concat(rows.Except(bound)).DistinctBy(file => file.Path)
        )
        {
            found.Wrong("version.files", $"{what}: the row of {path} is not as its manifest binds it");
        }
        foreach (var file in manifest.Files)
        {
            wanted.Add(file.Sha256.Hex, file.Bytes, file.Sha512Hex, $"{file.Path} of {what}");
        }
        Agree(
            what,
            ("number", manifest.Version == version.Number),
            ("id", Same(manifest.VersionId, version.Id.ToString())),
            ("order number", Same(manifest.Order, $"{orderNumber}")),
            (
                "sentences",
                manifest.StatementTexts.Count == version.StatementTexts.Count
                    && version.StatementTexts.All(text =>
                        manifest.StatementTexts.TryGetValue(text.Key, out var digest)
                        && digest == StatementTexts.Digest(text.Value)
                    )
            )
        );
    }

    private void Compare(DecisionStatement said, Decision row, HashSet<string> statements, string what)
    {
        if (said.Evidence.Elsewhere?.File is { } shown)
        {
            wanted.Add(shown.Hex, null, null, $"what shows {what}");
        }
        Agree(
            what,
            ("kind", said.Kind == row.Kind),
            ("manifest", Same(said.Manifest.Hex, row.ManifestSha256)),
            ("sentences", said.StatementText == StatementTexts.Digest(row.StatementText)),
            ("name", Same(said.Name, row.TypedName)),
            ("address", Same(said.Invited, row.Recipient)),
            ("evidence", said.Evidence.Level == row.EvidenceLevel),
            ("link", Same(said.Evidence.LinkId, (row.InvitationId ?? row.VersionId).ToString())),
            ("comment", Same(said.Comment ?? "", row.Comment)),
            ("nonce", Same(said.Nonce, row.Nonce)),
            ("time", said.At == row.At),
            ("decision taken back", said.Withdraws is not { } taken || statements.Contains(taken.Hex))
        );
    }

    // The first answer of a version holds its slot until it is taken back; further answers may hold seats beside it.
    private async Task SlotsAsync(Dictionary<Guid, Decision> all, CancellationToken cancel)
    {
        var slots = await db
            .DecisionSlots.AsNoTracking()
            .ToDictionaryAsync(slot => slot.VersionId, slot => slot.DecisionId, cancel);
        var seats = await db.SeatsTaken.AsNoTracking().ToListAsync(cancel);
        foreach (
            var (version, decision) in slots
                .Select(slot => (slot.Key, slot.Value))
                .Concat(seats.Select(seat => (seat.VersionId, seat.DecisionId)))
        )
        {
            if (
                !all.TryGetValue(decision, out var holder)
                || holder.VersionId != version
                || holder.Kind == DecisionKind.Withdraw
            )
            {
                found.Wrong(
                    "slot.other",
                    $"the deciding answer of version {version} is {decision}, which is none of its answers"
                );
            }
        }
        var seated = seats.Select(seat => seat.DecisionId).ToHashSet();
        var open = all
            .Values.GroupBy(row => row.VersionId)
            .Where(answers =>
                answers.All(row => row.Kind != DecisionKind.Withdraw) && answers.Any(row => !seated.Contains(row.Id))
            )
            .Select(answers => answers.Key)
            .Concat(_versions.Where(row => row.Value.State == VersionState.Decided).Select(row => row.Key))
            .Distinct()
            .Where(version => !slots.ContainsKey(version));
        foreach (var version in open)
        {
            found.Wrong("slot.missing", $"version {version} was answered but no answer decides it");
        }
    }

    private bool Hashes(byte[] bytes, string sha256, string what, string which)
    {
        if (Same(Sha256Digest.Of(bytes).Hex, sha256))
        {
            return true;
        }
        found.Wrong(
            $"{which}.changed",
            $"the {which} of {what} is not the one that was sealed ({sha256[..Math.Min(8, sha256.Length)]})"
        );
        return false;
    }

    private void Agree(string what, params ReadOnlySpan<(string Field, bool Agrees)> fields)
    {
        foreach (var (field, agrees) in fields)
        {
            if (!agrees)
            {
                found.Wrong("row.changed", $"{what}: the {field} in its row is not what was sealed");
            }
        }
    }

    private static bool Same(string? one, string? other) => string.Equals(one, other, StringComparison.Ordinal);
}
