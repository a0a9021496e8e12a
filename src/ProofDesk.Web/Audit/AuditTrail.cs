using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Log;
using ProofDesk.Web.Production;
using ProofDesk.Web.Records;
using LeafRow = ProofDesk.Adapters.Database.LogLeaf;

namespace ProofDesk.Web.Audit;

/// <summary>Reads the log as people do: every leaf with what it stands for, newest first.</summary>
public sealed class AuditTrail(OfficeDb db)
{
    public Task<long> SizeAsync(CancellationToken cancel) => db.LogLeaves.LongCountAsync(cancel);

    /// <summary>Newest first, at most <paramref name="most"/>.</summary>
    public async Task<IReadOnlyList<AuditRow>> ReadAsync(AuditQuery query, int most, CancellationToken cancel)
    {
        var leaves = await Narrowed(query)
            .OrderByDescending(leaf => leaf.Index)
            .Take(most)
            .AsNoTracking()
            .ToListAsync(cancel);
        var refs = leaves.ConvertAll(leaf => leaf.Ref);
        var events = await db
            .LoggedEvents.AsNoTracking()
            .Where(row => refs.Contains(row.Id))
            .ToDictionaryAsync(row => row.Id, cancel);
        var subjects = events.Values.Select(row => row.SubjectId).ToList();
        var decisions = await db
            .Decisions.AsNoTracking()
            .Where(row => refs.Contains(row.Id) || subjects.Contains(row.Id))
            .ToDictionaryAsync(row => row.Id, cancel);
        var versionIds = refs.Concat(events.Values.Select(row => row.VersionId ?? Guid.Empty))
            .Concat(decisions.Values.Select(row => row.VersionId))
            .Distinct()
            .ToList();
        var versions = await db
            .ProofVersions.Where(row => versionIds.Contains(row.Id))
            .Select(row => new Place(row.Id, row.Number, row.OrderId, row.Order!.Number, row.Order.Title))
            .ToDictionaryAsync(row => row.VersionId, cancel);
        var names = await NamesAsync(cancel);
        return leaves.ConvertAll(leaf =>
            decisions.TryGetValue(leaf.Ref, out var decision) ? Of(leaf, decision, versions)
            : events.TryGetValue(leaf.Ref, out var happened) ? Of(leaf, happened, decisions, versions, names)
            : Of(leaf, versions)
        );
    }

    private IQueryable<LeafRow> Narrowed(AuditQuery query)
    {
        IQueryable<LeafRow> leaves = db.LogLeaves;
        if (query.Before is { } before)
            leaves = leaves.Where(leaf => leaf.Index < before);
        if (query.From is { } from)
        {
            var since = new DateTimeOffset(from.ToDateTime(TimeOnly.MinValue), TimeSpan.Zero);
            leaves = leaves.Where(leaf => leaf.At >= since);
        }
        if (query.To is { } to && to < DateOnly.MaxValue)
        {
            var until = new DateTimeOffset(to.AddDays(1).ToDateTime(TimeOnly.MinValue), TimeSpan.Zero);
            leaves = leaves.Where(leaf => leaf.At < until);
        }
        if (query.Order is { } number)
        {
            var order = db.Orders.Where(row => row.Number == number).Select(row => (Guid?)row.Id);
            leaves = leaves.Where(leaf =>
                db.Decisions.Any(row => row.Id == leaf.Ref && order.Contains(row.OrderId))
                || db.LoggedEvents.Any(row => row.Id == leaf.Ref && order.Contains(row.OrderId))
                || db.ProofVersions.Any(row => row.Id == leaf.Ref && order.Contains(row.OrderId))
            );
        }
        leaves = OfKind(leaves, query);
        if (query.Who?.Trim() is { Length: > 0 } who)
        {
            var accounts = db.Users.Where(user => user.DisplayName.Contains(who)).Select(user => user.UserName);
            leaves = leaves.Where(leaf =>
                db.Decisions.Any(row =>
                    row.Id == leaf.Ref && (row.TypedName.Contains(who) || row.Recipient.Contains(who))
                )
                || db.LoggedEvents.Any(row =>
                    row.Id == leaf.Ref
                    && (row.Actor.Contains(who) || accounts.Contains(row.Actor))
                    // What was erased is not found by looking for it either.
                    && !(
                        row.Kind == EventKind.Disputed
                        && db.Decisions.Any(d => d.Id == row.SubjectId && d.StatementBytes.Length == 0)
                    )
                )
            );
        }
        return leaves;
    }

    private IQueryable<LeafRow> OfKind(IQueryable<LeafRow> leaves, AuditQuery query) =>
        query switch
        {
            { Kind: null or "" } => leaves,
            { Kind: AuditQuery.Frozen } => leaves.Where(leaf => leaf.Kind == LeafType.Freeze),
            { Decision: { } decision } => leaves.Where(leaf =>
                db.Decisions.Any(row => row.Id == leaf.Ref && row.Kind == decision)
            ),
            { Event: { } happened } => leaves.Where(leaf =>
                db.LoggedEvents.Any(row => row.Id == leaf.Ref && row.Kind == happened)
            ),
            _ => leaves.Where(_ => false),
        };

    /// <summary>Names by account, also of people who have left: the log says who joined and who was removed.</summary>
    private async Task<Dictionary<string, string>> NamesAsync(CancellationToken cancel)
    {
        var names = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        var staffing = await db
            .LoggedEvents.AsNoTracking()
            .Where(row => row.Kind == EventKind.ColleagueJoined || row.Kind == EventKind.ColleagueRemoved)
            .OrderBy(row => row.LeafIndex)
            .ToListAsync(cancel);
        foreach (var row in staffing)
        {
            var facts = EventJson.Parse(row.EventBytes).Facts;
            var account = row.Kind == EventKind.ColleagueJoined ? row.Actor : facts.GetValueOrDefault("account", "");
            names[account] = facts.GetValueOrDefault("name", "");
        }
        foreach (var user in await db.Users.Select(u => new { u.UserName, u.DisplayName }).ToListAsync(cancel))
            names[user.UserName ?? ""] = user.DisplayName;
        return names;
    }

    private static AuditRow Of(LeafRow leaf, Decision said, Dictionary<Guid, Place> versions)
    {
        var place = versions.GetValueOrDefault(said.VersionId);
        var elsewhere = KeptStatement.Of(said).Evidence.Elsewhere;
        List<string> details = [RecordPage.Word(said.EvidenceLevel)];
        if (elsewhere is not null)
            details.Add($"given elsewhere, written down by {elsewhere.Staff}");
        if (said.Recipient.Length > 0)
            details.Add($"invited: {said.Recipient}");
        if (!said.IsErased && RecordPage.Said(said) is { Length: > 0 } words)
            details.AddRange(words.Split('\n'));
        if (said.Flags.Length > 0)
            details.Add($"looks like a machine's: {RobotSigns.Say(said.Flags.Split(' '))}");
        return new(
            leaf.Index,
            leaf.At,
            AuditQuery.Word(said.Kind),
            RecordPage.Word(said.Kind),
            KeptStatement.NameOf(said),
            details,
            place?.OrderNumber,
            place?.OrderTitle ?? "",
            place?.VersionNumber,
            leaf.EventSha256,
            $"/records/{said.Id}"
        );
    }

    private static AuditRow Of(
        LeafRow leaf,
        LoggedEvent row,
        Dictionary<Guid, Decision> decisions,
        Dictionary<Guid, Place> versions,
        Dictionary<string, string> names
    )
    {
        var about = decisions.GetValueOrDefault(row.SubjectId ?? Guid.Empty);
        var happened = Happened.Of(row, about is { IsErased: true } ? [about.Id] : []);
        var place = versions.GetValueOrDefault(row.VersionId ?? Guid.Empty);
        var name = names.GetValueOrDefault(happened.By, "");
        return new(
            leaf.Index,
            leaf.At,
            EventJson.Word(row.Kind),
            happened.What,
            name.Length == 0 ? happened.By : $"{name} ({happened.By})",
            happened.Said,
            place?.OrderNumber,
            place?.OrderTitle ?? "",
            place?.VersionNumber,
            leaf.EventSha256,
            about is not null ? $"/records/{about.Id}"
                : place is not null ? $"/versions/{place.VersionId}/production"
                : null
        );
    }

    private static AuditRow Of(LeafRow leaf, Dictionary<Guid, Place> versions)
    {
        var place = versions.GetValueOrDefault(leaf.Ref);
        return new(
            leaf.Index,
            leaf.At,
            AuditQuery.Frozen,
            "version frozen",
            "the house",
            [],
            place?.OrderNumber,
            place?.OrderTitle ?? "",
            place?.VersionNumber,
            leaf.EventSha256,
            place is null ? null : $"/versions/{place.VersionId}"
        );
    }

    private sealed record Place(Guid VersionId, int VersionNumber, Guid OrderId, int OrderNumber, string OrderTitle);
}
