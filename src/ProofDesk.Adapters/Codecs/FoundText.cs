using System.Collections.Immutable;
using System.Text;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs;

/// <summary>Text that stands in a file as text, listed because spelling is the mistake that costs most.</summary>
internal static class FoundText
{
    /// <summary>Lines quoted in the finding; all of them are in the words of the art.</summary>
    private const int MostQuoted = 12;

    public static IEnumerable<Finding> Of(ImmutableArray<string> words)
    {
        if (words.Length == 0)
            yield break;
        var quoted = string.Join(", ", words.Take(MostQuoted).Select(line => $"\"{line}\""));
        var more = words.Length > MostQuoted ? $" and {words.Length - MostQuoted} more" : "";
        yield return new(
            "text-found",
            FindingWeight.Note,
            $"{words.Length} {(words.Length == 1 ? "line" : "lines")} of text {(words.Length == 1 ? "was" : "were")} found in the file: {quoted}{more}",
            "read every line letter by letter; text drawn as outlines or inside pictures is not found",
            words.Length,
            null,
            "lines"
        );
    }

    /// <summary>One line without control characters, runs of space drawn together, at most 200 characters.</summary>
    public static string Plain(string text)
    {
        var line = new StringBuilder();
        foreach (var c in text)
            if (char.IsWhiteSpace(c))
            {
                if (line.Length > 0 && line[^1] != ' ')
                    line.Append(' ');
            }
            else if (!char.IsControl(c) && line.Length < 200)
                line.Append(c);
        return line.ToString().Trim();
    }
}
