using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Log;

/// <summary>An offline proof of c2sp.org/tlog-proof (file extension .tlog-proof): index, path and signed checkpoint.</summary>
/// <param name="Index">Place of the leaf, from 0.</param>
/// <param name="Path">Hashes from the leaf's sibling up to the root's child.</param>
/// <param name="CheckpointNote">The signed checkpoint, byte for byte.</param>
/// <param name="Extra">Opaque and not authenticated; null when there is none.</param>
public sealed record TlogProof(long Index, ImmutableArray<byte[]> Path, string CheckpointNote, byte[]? Extra = null)
{
    private const string FirstLine = "c2sp.org/tlog-proof@v1";
    private const int MaxPath = 63;

    /// <summary>The proof of one leaf in the tree whose head was signed.</summary>
    public static TlogProof Of(MerkleTree tree, int index, string checkpointNote)
    {
        var head = Checkpoint.ReadUnverified(checkpointNote);
        return new(index, tree.Inclusion(index, checked((int)head.Size)), checkpointNote);
    }

    public string Write()
    {
        var text = new StringBuilder(FirstLine).Append('\n');
        if (Extra is not null)
        {
            text.Append("extra ").Append(Convert.ToBase64String(Extra)).Append('\n');
        }

        text.Append(CultureInfo.InvariantCulture, $"index {Index}\n");
        foreach (var hash in Path)
        {
            text.Append(Convert.ToBase64String(hash)).Append('\n');
        }

        return text.Append('\n').Append(CheckpointNote).ToString();
    }

    public static TlogProof Parse(string text)
    {
        var gap = text.IndexOf("\n\n", StringComparison.Ordinal);
        var lines = (gap < 0 ? text : text[..gap]).Split('\n');
        if (gap < 0 || !string.Equals(lines[0], FirstLine, StringComparison.Ordinal))
        {
            throw new RecordFormatException(
                $"not a proof: the first line must be '{FirstLine}', an empty line must stand before the checkpoint"
            );
        }

        var next = 1;
        byte[]? extra = null;
        if (next < lines.Length && lines[next].StartsWith("extra ", StringComparison.Ordinal))
        {
            extra = NoteBase64.TryDecode(lines[next++][6..], out var bytes)
                ? bytes
                : throw new RecordFormatException("the extra data of the proof is not base64");
        }

        if (
            next >= lines.Length
            || !lines[next].StartsWith("index ", StringComparison.Ordinal)
            || !Checkpoint.TryWhole(lines[next][6..], out var index)
        )
        {
            throw new RecordFormatException($"line {next + 1} of the proof is not 'index' and a whole number");
        }

        var path = lines[(next + 1)..];
        return path.Length <= MaxPath
            ? new(index, [.. path.Select(Hash)], text[(gap + 2)..], extra)
            : throw new RecordFormatException($"the proof has {path.Length} hashes, at most {MaxPath} fit any log");
    }

    /// <summary>Signature of the checkpoint, then the path from the leaf to its root. Throws with the reason when either fails.</summary>
    public Checkpoint Verify(ReadOnlySpan<byte> leafHash, IReadOnlyCollection<VerifierKey> known)
    {
        var head = Checkpoint.Open(CheckpointNote, known);
        return MerkleProof.Includes(head.Root, head.Size, leafHash, Index, Path)
            ? head
            : throw new RecordFormatException(
                $"the path of leaf {Index} does not lead to the root of the log of {head.Size} leaves"
            );
    }

    private static byte[] Hash(string line) =>
        NoteBase64.TryDecode(line, out var hash) && hash.Length == 32
            ? hash
            : throw new RecordFormatException($"'{line}' is not the base64 of a 32-byte hash");
}
