using System.Globalization;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Log;

/// <summary>The head of a log at one size, as c2sp.org/tlog-checkpoint writes it. Extension lines are neither written nor read.</summary>
/// <param name="Origin">Name of the log, e.g. "lindhag.example/proofs/1".</param>
/// <param name="Size">Number of leaves.</param>
/// <param name="RootBase64">Root of the tree of that size.</param>
public sealed record Checkpoint(string Origin, long Size, string RootBase64)
{
    public static Checkpoint Of(string origin, MerkleTree tree) =>
        new(origin, tree.Size, Convert.ToBase64String(tree.Root()));

    public byte[] Root => Convert.FromBase64String(RootBase64);

    /// <summary>The three lines that are signed.</summary>
    public string Text => string.Create(CultureInfo.InvariantCulture, $"{Origin}\n{Size}\n{RootBase64}\n");

    public string Sign(params ReadOnlySpan<SigningKey> keys) => SignedNote.Sign(Text, keys);

    /// <summary>Checks the signatures and reads the head.</summary>
    public static Checkpoint Open(string note, IReadOnlyCollection<VerifierKey> known) =>
        Parse(SignedNote.Open(note, known).Text);

    /// <summary>Reads the head without any check of a signature.</summary>
    public static Checkpoint ReadUnverified(string note) => Parse(SignedNote.Split(note).Text);

    public static Checkpoint Parse(string text)
    {
        var lines = text.Split('\n');
        if (lines.Length != 4 || lines[0].Length == 0 || lines[3].Length != 0)
        {
            throw new RecordFormatException(
                $"a checkpoint has three lines (origin, size, root), got {lines.Length - 1}"
            );
        }

        if (!TryWhole(lines[1], out var size))
        {
            throw new RecordFormatException($"'{lines[1]}' is not the size of a log");
        }

        return NoteBase64.TryDecode(lines[2], out var root) && root.Length == 32
            ? new Checkpoint(lines[0], size, lines[2])
            : throw new RecordFormatException($"'{lines[2]}' is not the base64 of a 32-byte root");
    }

    /// <summary>ASCII decimal without leading zeroes.</summary>
    internal static bool TryWhole(string text, out long value) =>
        long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out value)
        && string.Equals(value.ToString(CultureInfo.InvariantCulture), text, StringComparison.Ordinal);
}
