using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Text;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Log;

/// <summary>A note of c2sp.org/signed-note: text, an empty line, signature lines.</summary>
public static class SignedNote
{
    /// <summary>More signature lines than this are refused (the format asks for at least 16).</summary>
    public const int MaxSignatures = 64;

    private const string Dash = "\u2014 ";

    public static string Sign(string text, params ReadOnlySpan<SigningKey> keys)
    {
        CheckText(text);
        var note = new StringBuilder(text).Append('\n');
        foreach (var key in keys)
        {
            var line = new byte[4 + 64];
            BinaryPrimitives.WriteUInt32BigEndian(line, key.Verifier.Id);
            key.Sign(Encoding.UTF8.GetBytes(text)).CopyTo(line.AsSpan(4));
            note.Append(Dash).Append(key.Verifier.Name).Append(' ').Append(Convert.ToBase64String(line)).Append('\n');
        }

        return note.ToString();
    }

    /// <summary>
    /// The text of a note and the known keys that signed it. Signatures of unknown keys are ignored; one known key that
    /// fails, or no known key at all, refuses the note.
    /// </summary>
    public static OpenedNote Open(string note, IReadOnlyCollection<VerifierKey> known)
    {
        var (text, lines) = Split(note);
        var bytes = Encoding.UTF8.GetBytes(text);
        var signers = ImmutableArray.CreateBuilder<VerifierKey>();
        var ignored = 0;
        foreach (var (name, id, signature) in lines)
        {
            var keys = known.Where(k => k.Id == id && string.Equals(k.Name, name, StringComparison.Ordinal)).ToList();
            if (keys.Count == 0)
            {
                ignored++;
                continue;
            }

            var key = keys.Find(k => k.Verifies(bytes, signature));
            signers.Add(
                key ?? throw new RecordFormatException($"the signature of {name}+{id:x8} does not fit the text")
            );
        }

        return signers.Count > 0
            ? new OpenedNote(text, [.. signers.Distinct()], ignored)
            : throw new RecordFormatException(
                $"no known key signed the note ({lines.Count} signatures: {string.Join(", ", lines.Select(l => $"{l.Name}+{l.Id:x8}"))})"
            );
    }

    /// <summary>Text and signature lines without any check of a signature.</summary>
    internal static (string Text, List<(string Name, uint Id, byte[] Signature)> Lines) Split(string note)
    {
        var gap = note.LastIndexOf("\n\n", StringComparison.Ordinal);
        if (gap < 0 || !note.EndsWith('\n'))
        {
            throw new RecordFormatException(
                "the note has no empty line before its signatures, or no line end after them"
            );
        }

        var text = note[..(gap + 1)];
        CheckText(text);
        var lines = note[(gap + 2)..].Split('\n')[..^1];
        return lines.Length is > 0 and <= MaxSignatures
            ? (text, [.. lines.Select(Line)])
            : throw new RecordFormatException($"the note has {lines.Length} signatures, must be 1 to {MaxSignatures}");
    }

    private static (string Name, uint Id, byte[] Signature) Line(string line)
    {
        var space = line.IndexOf(' ', Math.Min(Dash.Length, line.Length));
        if (
            !line.StartsWith(Dash, StringComparison.Ordinal)
            || space < 0
            || !VerifierKey.IsName(line[Dash.Length..space])
            || !NoteBase64.TryDecode(line[(space + 1)..], out var bytes)
            || bytes.Length < 5
        )
        {
            throw new RecordFormatException($"'{line}' is not a signature line: expected \u2014 NAME BASE64");
        }

        return (line[Dash.Length..space], BinaryPrimitives.ReadUInt32BigEndian(bytes), bytes[4..]);
    }

    private static void CheckText(string text)
    {
        if (!text.EndsWith('\n') || text.Any(c => c < ' ' && c != '\n'))
        {
            throw new RecordFormatException(
                "the text of a note ends with a line end and has no other control characters"
            );
        }
    }
}

/// <param name="Text">Signed text, with its last line end.</param>
/// <param name="Signers">Known keys whose signature fits.</param>
/// <param name="Ignored">Signatures by keys that are not known here.</param>
public sealed record OpenedNote(string Text, ImmutableArray<VerifierKey> Signers, int Ignored);
