using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Packets;

/// <summary>A log key somebody trusts.</summary>
/// <param name="Until">First size of the log for which the key alone no longer counts (it was revoked); null while it counts.</param>
public sealed record TrustedKey(VerifierKey Key, long? Until = null)
{
    public bool CountsAt(long size) => Until is not { } until || size < until;

    /// <summary>The line of a trust file.</summary>
    public override string ToString() =>
        Until is { } until ? string.Create(CultureInfo.InvariantCulture, $"{Key} until {until}") : Key.ToString();
}

/// <summary>
/// Keys of shops, a line each, '#' starts a comment: KEY, or KEY until SIZE for a key that counts for smaller logs only. A size
/// and no time: nobody can prove when something was signed, but how large the log was stands in the checkpoint.
/// </summary>
public static class TrustFile
{
    private static readonly char[] Blanks = [' ', '\t'];

    /// <param name="name">How messages call the file.</param>
    public static ImmutableArray<TrustedKey> Parse(string text, string name)
    {
        var keys = ImmutableArray.CreateBuilder<TrustedKey>();
        foreach (var (line, i) in Lines(text).Select((line, i) => (line, i)))
        {
            var words = line.Split('#')[0].Split(Blanks, StringSplitOptions.RemoveEmptyEntries);
            try
            {
                if (words.Length > 0)
                {
                    keys.Add(Trusted(words));
                }
            }
            catch (RecordFormatException e)
            {
                throw new RecordFormatException(
                    string.Create(CultureInfo.InvariantCulture, $"{name}, line {i + 1}: {e.Message}")
                );
            }
        }

        return keys.ToImmutable();
    }

    private static TrustedKey Trusted(string[] words)
    {
        var key = VerifierKey.Parse(words[0]);
        if (words.Length == 1)
        {
            return new(key);
        }

        if (words.Length != 3 || words[1] != "until")
        {
            throw new RecordFormatException(
                $"after the key may stand 'until SIZE' only, got '{string.Join(' ', words[1..])}'"
            );
        }

        return Checkpoint.TryWhole(words[2], out var until)
            ? new(key, until)
            : throw new RecordFormatException($"'{words[2]}' is not the size of a log");
    }

    private static string[] Lines(string text) =>
        text.Replace("\r\n", "\n", StringComparison.Ordinal).Replace('\r', '\n').Split('\n');
}
