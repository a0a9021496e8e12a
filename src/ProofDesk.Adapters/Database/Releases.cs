using Microsoft.EntityFrameworkCore;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Database;

/// <summary>Whether full films of a version may leave the server and be burned, and if not why.</summary>
public abstract record Release
{
    private Release() { }

    /// <param name="By">who approved</param>
    public sealed record Free(string By, DateTimeOffset At, Guid DecisionId) : Release;

    public sealed record Superseded(int By) : Release;

    public sealed record NotApproved : Release;

    public sealed record ChangesAsked(string By) : Release;

    /// <summary>Approved, and the answer can still be taken back.</summary>
    public sealed record WithinHold(DateTimeOffset Ends) : Release;

    /// <summary>Staff must look first.</summary>
    public sealed record Held(DateTimeOffset Since, string Why) : Release;

    /// <summary>One has approved, the second has not.</summary>
    public sealed record SecondMissing(string Whom) : Release;

    public sealed record Unknown : Release;
}

/// <summary>The one place that answers "may this be burned?".</summary>
public sealed class Releases(Office office, OfficeSettings settings, TimeProvider time)
{
    public async Task<Release> OfAsync(Guid versionId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        var version = await db
            .ProofVersions.AsNoTracking()
            .Include(row => row.Order)
            .SingleOrDefaultAsync(row => row.Id == versionId, cancel);
        if (version is null)
        {
            return new Release.Unknown();
        }
        var newer = await db
            .ProofVersions.Where(row =>
                row.OrderId == version.OrderId && row.Number > version.Number && row.SentAt != null
            )
            .MaxAsync(row => (int?)row.Number, cancel);
        if (newer is { } number)
        {
            return new Release.Superseded(number);
        }
        var first = await Seats.StandingAsync(db, versionId, null, cancel);
        var second = await Seats.StandingAsync(db, versionId, AnswerSeat.Second, cancel);
        var sample = await Seats.StandingAsync(db, versionId, AnswerSeat.Sample, cancel);
        var order = version.Order!;
        if (
            new[] { first, second, sample }.FirstOrDefault(answer => answer?.Kind == DecisionKind.Changes) is
            { } changes
        )
        {
            return new Release.ChangesAsked(KeptStatement.NameOf(changes));
        }
        if (first is null)
        {
            return new Release.NotApproved();
        }
        if (order.HeldSince is { } since)
        {
            return new Release.Held(since, order.HeldWhy);
        }
        if (order.SecondApprover.Length > 0 && second is null)
        {
            return new Release.SecondMissing(order.SecondApprover);
        }
        var ends = (second is null || second.At < first.At ? first.At : second.At).AddMinutes(settings.HoldMinutes);
        return time.GetUtcNow() < ends
            ? new Release.WithinHold(ends)
            : new Release.Free(
                second is null
                    ? KeptStatement.NameOf(first)
                    : $"{KeptStatement.NameOf(first)} and {KeptStatement.NameOf(second)}",
                first.At,
                first.Id
            );
    }
}
