namespace ProofDesk.Approvals.Log;

/// <summary>
/// "A log MUST not sign any checkpoint which is inconsistent with any checkpoint it previously signed"
/// (c2sp.org/tlog-checkpoint): the signer compares the tree with the highest checkpoint it ever signed.
/// </summary>
public static class CheckpointSigner
{
    /// <summary>
    /// Signs the head of this tree, or says why not. <paramref name="highest"/> is the largest checkpoint signed before,
    /// kept outside the database; null for a new log.
    /// </summary>
    public static SignedHead Sign(
        MerkleTree tree,
        string origin,
        Checkpoint? highest,
        params ReadOnlySpan<SigningKey> keys
    )
    {
        if (highest is not null && !string.Equals(highest.Origin, origin, StringComparison.Ordinal))
        {
            return Refused(
                $"the log is called {origin}, the last checkpoint signed is of {highest.Origin}: start a new log for a new name"
            );
        }

        if (highest is not null && tree.Size < highest.Size)
        {
            return Refused(
                $"the log has {tree.Size} leaves, a checkpoint of {highest.Size} was signed before: leaves are lost, restore them"
            );
        }

        if (highest is not null && !highest.Root.AsSpan().SequenceEqual(tree.Root((int)highest.Size)))
        {
            return Refused(
                $"the first {highest.Size} leaves are not those signed before: the log was rewritten, restore it"
            );
        }

        var head = Checkpoint.Of(origin, tree);
        return new(head, head.Sign(keys), null);
    }

    private static SignedHead Refused(string why) => new(null, null, why);
}

/// <param name="Head">The checkpoint that was signed, or null.</param>
/// <param name="Note">The signed note, or null.</param>
/// <param name="Refusal">Why nothing was signed, or null.</param>
public sealed record SignedHead(Checkpoint? Head, string? Note, string? Refusal);
