using System.Collections.Immutable;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Events;
using ProofDesk.Approvals.Log;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// Changes of the log's key. For an operator while no server runs: a server holds its key in memory.
/// </summary>
public sealed class LogKeys(Office office, DataFolder folder, LogKeeper log, EventLog events, TimeProvider time)
{
    /// <summary>
    /// A new key begins: the event that says so is under a checkpoint that both keys sign, so whoever trusts the old one can come to
    /// trust the new one. The old private key is gone afterwards; its public half goes on verifying what it signed.
    /// </summary>
    public async Task<KeyChange> RotateAsync(string actor, CancellationToken cancel = default)
    {
        var (old, origin) = (log.History.Key, log.Origin);
        await LogKeyFile.MakeAsync(folder.NextLogKey, cancel);
        var next = await LogKeyFile.ReadAsync(folder.NextLogKey, origin, cancel);
        Fault.Point("log-key.after-next");
        var leaf = await office.WriteAsync(
            async db =>
            {
                await KeepFirstAsync(db, cancel);
                var (_, leaf) = await events.AppendAsync(
                    db,
                    new Happening(
                        EventKind.KeyAdded,
                        actor,
                        Facts(("key", next.Verifier.ToString()), ("before", old.Verifier.ToString()))
                    ),
                    new LogSigning(origin, [old, next]),
                    cancel
                );
                db.LogKeys.Add(
                    new LogKey
                    {
                        VerifierKey = next.Verifier.ToString(),
                        FromSize = leaf.Index + 1,
                        AddedAt = leaf.At,
                    }
                );
                await db.SaveChangesAsync(cancel);
                return leaf;
            },
            cancel
        );
        Fault.Point("log-key.after-commit");
        await ReloadAsync(leaf, cancel);
        return new(next.Verifier.ToString(), old.Verifier.ToString(), leaf);
    }

    /// <summary>A key counts no more for a log of <paramref name="fromSize"/> entries and over.</summary>
    public async Task<KeyChange> RevokeAsync(
        string verifierKey,
        long fromSize,
        string actor,
        CancellationToken cancel = default
    )
    {
        var key = VerifierKey.Parse(verifierKey);
        if (key == log.History.Key.Verifier)
        {
            throw new LogRefusedException($"{key} signs the log now; begin a new key first: proofdesk log-key rotate");
        }
        if (!log.History.Known.Contains(key))
        {
            throw new LogRefusedException(
                $"{key} never signed this log; its keys are {string.Join(", ", log.History.Known)}"
            );
        }
        var leaf = await office.WriteAsync(
            async db =>
            {
                await KeepFirstAsync(db, cancel);
                var row = await db.LogKeys.SingleAsync(row => row.VerifierKey == verifierKey, cancel);
                if (row.RevokedFromSize is { } already)
                {
                    throw new LogRefusedException(
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"{key} was revoked before, from {already} entries on"
                        )
                    );
                }
                var (_, leaf) = await events.AppendAsync(
                    db,
                    new Happening(
                        EventKind.KeyRevoked,
                        actor,
                        Facts(("key", verifierKey), ("from-size", fromSize.ToString(CultureInfo.InvariantCulture)))
                    ),
                    cancel
                );
                row.RevokedFromSize = fromSize;
                row.RevokedAt = time.GetUtcNow();
                await db.SaveChangesAsync(cancel);
                return leaf;
            },
            cancel
        );
        await ReloadAsync(leaf, cancel);
        return new(log.VerifierKey, verifierKey, leaf);
    }

    /// <summary>Writes down the key and the epoch that were there from the start, once there are others.</summary>
    internal async Task KeepFirstAsync(OfficeDb db, CancellationToken cancel)
    {
        if (!await db.LogEpochs.AnyAsync(cancel))
        {
            db.LogEpochs.Add(
                new LogEpoch
                {
                    Number = 1,
                    Origin = log.Origin,
                    OpenedAt = time.GetUtcNow(),
                }
            );
        }
        var key = log.VerifierKey;
        if (!await db.LogKeys.AnyAsync(row => row.VerifierKey == key, cancel))
        {
            db.LogKeys.Add(new LogKey { VerifierKey = key, AddedAt = time.GetUtcNow() });
        }
        await db.SaveChangesAsync(cancel);
    }

    private async Task ReloadAsync(SealedLeaf leaf, CancellationToken cancel)
    {
        await using var db = office.Open();
        await log.LoadAsync(db, cancel);
        await events.PublishAsync(leaf, cancel);
        await log.WriteTrustAsync(cancel);
    }

    private static ImmutableSortedDictionary<string, string> Facts(params (string Name, string Value)[] facts) =>
        facts.ToImmutableSortedDictionary(fact => fact.Name, fact => fact.Value, StringComparer.Ordinal);
}

/// <param name="Key">Signs from now on.</param>
/// <param name="Before">The key that ended.</param>
/// <param name="Leaf">The event that says so.</param>
public sealed record KeyChange(string Key, string Before, SealedLeaf Leaf);
