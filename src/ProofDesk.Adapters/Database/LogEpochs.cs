using System.Collections.Immutable;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Log;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// A database put back from an old backup would fork the log: entries that clients hold receipts of are gone, and others would take their
/// numbers. So the log goes on under another name, and says in its first entry which checkpoint it left behind.
/// </summary>
public sealed class LogEpochs(Office office, DataFolder folder, LogKeeper log, LogKeys keys, EventLog events)
{
    /// <summary>Opens an epoch, or refuses when the log is the one that was signed last.</summary>
    public async Task<EpochOpened> OpenAsync(string actor, CancellationToken cancel = default)
    {
        await using (var db = office.Open())
        {
            await log.LoadAsync(db, cancel);
        }
        var lost = File.Exists(folder.LogHighWater) ? await File.ReadAllTextAsync(folder.LogHighWater, cancel) : "";
        if (await ContinuesAsync(cancel))
        {
            throw new LogRefusedException(
                "the log continues what was signed before, so nothing is lost and no new epoch is needed"
            );
        }
        var (own, size) = await OwnAsync(cancel);
        var head = Checkpoint.ReadUnverified(lost);
        var first = log.Origin.Split("/epoch-")[0];
        var number = Math.Max(log.History.Epoch, NumberOf(head.Origin)) + 1;
        var origin = string.Create(CultureInfo.InvariantCulture, $"{first}/epoch-{number}");
        var key = await LogKeyFile.ReadAsync(folder.LogKey, origin, cancel);
        var leaf = await office.WriteAsync(
            async db =>
            {
                await keys.KeepFirstAsync(db, cancel);
                var (_, leaf) = await events.AppendAsync(
                    db,
                    new Happening(EventKind.EpochOpened, actor, Facts(origin, size, own, lost)),
                    new LogSigning(origin, [key], NewEpoch: true),
                    cancel
                );
                var last = await db.LogEpochs.MaxAsync(row => row.Number, cancel);
                db.LogEpochs.Add(
                    new LogEpoch
                    {
                        Number = last + 1,
                        Origin = origin,
                        FromSize = size,
                        OpenedAt = leaf.At,
                        LostNote = lost,
                    }
                );
                db.LogKeys.Add(
                    new LogKey
                    {
                        VerifierKey = key.Verifier.ToString(),
                        FromSize = leaf.Index + 1,
                        AddedAt = leaf.At,
                    }
                );
                await db.SaveChangesAsync(cancel);
                return leaf;
            },
            cancel
        );
        Fault.Point("log-epoch.after-commit");
        await log.OpenAsync(cancel);
        return new(origin, key.Verifier.ToString(), size, head.Size, head.Origin, leaf);
    }

    private async Task<bool> ContinuesAsync(CancellationToken cancel)
    {
        try
        {
            await log.OpenAsync(cancel);
            return true;
        }
        catch (LogRefusedException)
        {
            return false;
        }
    }

    /// <summary>The newest checkpoint this database holds, empty when it holds none, and its number of leaves.</summary>
    private async Task<(string Note, long Size)> OwnAsync(CancellationToken cancel)
    {
        await using var db = office.Open();
        return (await log.CheckpointAsync(cancel) ?? "", await db.LogLeaves.LongCountAsync(cancel));
    }

    private static ImmutableSortedDictionary<string, string> Facts(string origin, long size, string own, string lost)
    {
        var facts = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        facts.Add("origin", origin);
        facts.Add("from-size", size.ToString(CultureInfo.InvariantCulture));
        facts.Add("lost-checkpoint", lost);
        if (own.Length > 0)
        {
            facts.Add("own-checkpoint", own);
        }
        return facts.ToImmutable();
    }

    private static int NumberOf(string origin)
    {
        var parts = origin.Split("/epoch-");
        return
            parts.Length == 2 && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            ? number
            : 1;
    }
}

/// <param name="Origin">Name of the log from now on.</param>
/// <param name="Size">Entries the database held: they stay, with their old proofs.</param>
/// <param name="LostSize">Entries that were signed before.</param>
/// <param name="LostOrigin">Under which name.</param>
public sealed record EpochOpened(
    string Origin,
    string VerifierKey,
    long Size,
    long LostSize,
    string LostOrigin,
    SealedLeaf Leaf
)
{
    /// <summary>Which receipts no longer have their entry, in words.</summary>
    public string Lost =>
        LostSize > Size
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"lost: entries {Size} to {LostSize - 1} of {LostOrigin}. Receipts with these log indexes name decisions this database does not know; ask who holds them, and keep their packets: they stay valid"
            )
            : string.Create(
                CultureInfo.InvariantCulture,
                $"lost: the database holds {Size} entries, but not those that were signed as the first {LostSize} of {LostOrigin}. Compare every receipt with its packet"
            );
}
