using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Packets;

/// <summary>
/// Does anything from outside the packet vouch for its log? Whoever holds the log's key can write a packet that fits in
/// itself; only a key or a checkpoint that the caller got on another way shows that this is the log of that shop.
/// </summary>
internal static class PacketAnchor
{
    public static ImmutableArray<VerifyStep> Check(OpenedPacket opened, VerifyOptions options)
    {
        var steps = new List<VerifyStep>();
        if (!options.Keys.IsEmpty)
        {
            steps.Add(ByKeys(opened.Packet.Keys, options.Keys));
        }

        var size = Checkpoint.ReadUnverified(TlogProof.Parse(opened.Packet.DecisionProof).CheckpointNote).Size;
        if (ByTrust(opened.Packet.Keys, size, options.Trusted) is { } trust)
        {
            steps.Add(trust);
        }

        if (options.Held is not null)
        {
            steps.Add(ByHeld(opened, options.Held, options));
        }

        if (steps.TrueForAll(s => s.Outcome == StepOutcome.NotProven))
        {
            steps.Add(
                new(
                    "anchored",
                    StepOutcome.NotProven,
                    "that the log is the shop's: give its key (--key), a receipt (--checkpoint) or a trust file (--trust) from elsewhere"
                )
            );
        }

        return [.. steps];
    }

    private static VerifyStep ByKeys(ImmutableArray<VerifierKey> signers, ImmutableArray<VerifierKey> given) =>
        signers.FirstOrDefault(given.Contains) is { } key
            ? PacketCheck.Ok("anchored", $"the key {key.Name}+{key.Id:x8} is one you gave")
            : PacketCheck.Fail(
                "anchored",
                $"the log is signed by {string.Join(" and ", signers.Select(k => k.ToString()))}, not by a key you gave ({string.Join(", ", given.Select(k => k.ToString()))})"
            );

    private static VerifyStep? ByTrust(
        ImmutableArray<VerifierKey> signers,
        long size,
        ImmutableArray<TrustedKey> trusted
    )
    {
        var known = signers.Where(s => trusted.Any(t => t.Key == s)).ToList();
        if (known.Find(s => Counts(trusted, s, size)) is { } key)
        {
            return PacketCheck.Ok("anchored", $"the key {key.Name}+{key.Id:x8} is in your trust file");
        }

        if (known.Count > 0)
        {
            return PacketCheck.Fail("anchored", Ended(known[0], size, trusted, "the packet's"));
        }

        var namesake = trusted.FirstOrDefault(t =>
            signers.Any(s => string.Equals(s.Name, t.Key.Name, StringComparison.Ordinal))
        );
        return namesake is null
            ? null
            : PacketCheck.Fail("anchored", $"your trust file has another key for {namesake.Key.Name}: {namesake.Key}");
    }

    /// <summary>Does this key count for a log of this size? Every line about it must say so.</summary>
    private static bool Counts(ImmutableArray<TrustedKey> trusted, VerifierKey key, long size) =>
        trusted.Where(t => t.Key == key).All(t => t.CountsAt(size));

    private static string Ended(VerifierKey key, long size, ImmutableArray<TrustedKey> trusted, string whose) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"the key {key.Name}+{key.Id:x8} counts for a log of fewer than {trusted.Where(t => t.Key == key).Min(t => t.Until)} entries, by your trust file; {whose} checkpoint has {size} and no other key signed it"
        );

    private static VerifyStep ByHeld(OpenedPacket opened, string held, VerifyOptions options)
    {
        try
        {
            return held.StartsWith("c2sp.org/tlog-proof", StringComparison.Ordinal)
                ? ByReceipt(opened, held, options.Trusted)
                : ByCheckpoint(opened, held, options.Trusted);
        }
        catch (RecordFormatException e)
        {
            return PacketCheck.Fail("anchored", $"the checkpoint you gave does not fit this log: {e.Message}");
        }
    }

    /// <summary>A receipt holds a proof of its own, so it vouches for the decision whatever size the log had then.</summary>
    private static VerifyStep ByReceipt(OpenedPacket opened, string held, ImmutableArray<TrustedKey> trusted)
    {
        var proof = TlogProof.Parse(held);
        var head = proof.Verify(LogLeaf.Hash(LeafType.Decision, opened.StatementDigest), opened.Packet.Keys);
        var own = TlogProof.Parse(opened.Packet.DecisionProof);
        return proof.Index != own.Index
            ? PacketCheck.Fail(
                "anchored",
                $"your receipt says entry {proof.Index}, the packet entry {own.Index}: the log was forked"
            )
            : Revoked(proof.CheckpointNote, opened.Packet.Keys, head, trusted)
                ?? Compared(opened, head)
                ?? PacketCheck.Ok(
                    "anchored",
                    $"your receipt proves the same decision as entry {proof.Index} of the log"
                );
    }

    private static VerifyStep ByCheckpoint(OpenedPacket opened, string held, ImmutableArray<TrustedKey> trusted)
    {
        var head = Checkpoint.Open(held, opened.Packet.Keys);
        return Revoked(held, opened.Packet.Keys, head, trusted)
            ?? Compared(opened, head)
            ?? new(
                "anchored-checkpoint",
                StepOutcome.NotProven,
                $"anything by your checkpoint: it is of {head.Size} entries and the packet's of another size; give the .tlog-proof of the receipt instead"
            );
    }

    /// <summary>What you hold vouches for nothing when only a key signed it that no longer counts at that size.</summary>
    private static VerifyStep? Revoked(
        string note,
        ImmutableArray<VerifierKey> keys,
        Checkpoint head,
        ImmutableArray<TrustedKey> trusted
    )
    {
        var signers = SignedNote.Open(note, keys).Signers;
        return signers.Any(s => Counts(trusted, s, head.Size))
            ? null
            : PacketCheck.Fail("anchored", Ended(signers[0], head.Size, trusted, "your"));
    }

    /// <summary>A verdict when both heads are of one size or of two logs; null when sizes differ.</summary>
    private static VerifyStep? Compared(OpenedPacket opened, Checkpoint held)
    {
        var own = Checkpoint.ReadUnverified(TlogProof.Parse(opened.Packet.DecisionProof).CheckpointNote);
        if (!string.Equals(held.Origin, own.Origin, StringComparison.Ordinal))
        {
            return PacketCheck.Fail(
                "anchored",
                $"your checkpoint is of the log {held.Origin}, the packet of {own.Origin}"
            );
        }

        if (held.Size != own.Size)
        {
            return null;
        }

        return string.Equals(held.RootBase64, own.RootBase64, StringComparison.Ordinal)
            ? PacketCheck.Ok("anchored", $"your checkpoint and the packet's are the same head of {own.Size} entries")
            : PacketCheck.Fail(
                "anchored",
                $"your checkpoint has another root at {own.Size} entries: the log was forked"
            );
    }
}
