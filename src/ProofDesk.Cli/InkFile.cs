using System.Text.Json;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Cli;

/// <summary>--inks: "auto", a number, or a file that lists ink ids and colours to mix.</summary>
internal static class InkFile
{
    /// <exception cref="UsageProblem">Neither of them, or the file names an ink that is not there.</exception>
    public static InkChoice Read(string text)
    {
        if (text == "auto")
            return InkChoice.Automatic;
        if (int.TryParse(text, out var count))
            return count is >= 1 and <= 20
                ? InkChoice.Exactly(count)
                : throw new UsageProblem($"--inks takes 1 to 20 colours; {count} given");
        if (!File.Exists(text))
            throw new UsageProblem($"--inks is auto, a number or a file; there is no file '{text}'");
        var words = text.EndsWith(".json", StringComparison.OrdinalIgnoreCase) ? Json(text) : Csv(text);
        var inks = new List<Ink>();
        var colours = new List<string>();
        foreach (var (line, word) in words)
            if (word.StartsWith('#'))
                colours.Add(
                    IsColour(word) ? word.ToLowerInvariant() : throw Problem(text, line, $"'{word}' is not #rrggbb")
                );
            else
                inks.Add(
                    InkLibrary.Find(word)
                        ?? throw Problem(
                            text,
                            line,
                            $"no ink '{word}'{Nearest.Guess(word, InkLibrary.Default.Select(i => i.Id))}"
                        )
                );
        return inks.Count + colours.Count == 0
            ? throw new UsageProblem($"{text} lists no ink")
            : new(null, [.. inks], [.. colours]);
    }

    private static IEnumerable<(int Line, string Word)> Json(string path)
    {
        try
        {
            var words = JsonSerializer.Deserialize<string[]>(File.ReadAllText(path)) ?? [];
            return [.. words.Select((w, i) => (i + 1, w))];
        }
        catch (JsonException e)
        {
            throw Problem(
                path,
                (int)(e.LineNumber ?? 0) + 1,
                "a list of texts is expected, such as [\"white\", \"#d02030\"]"
            );
        }
    }

    /// <summary>First column; a header line "ink" and empty lines are passed over.</summary>
    private static IEnumerable<(int Line, string Word)> Csv(string path) =>
        File.ReadLines(path)
            .Select((line, i) => (i + 1, line.Split(',', ';')[0].Trim().Trim('"')))
            .Where(l => l.Item2.Length > 0 && !(l.Item1 == 1 && l.Item2 is "ink" or "id"));

    private static bool IsColour(string word) => word.Length == 7 && word.Skip(1).All(char.IsAsciiHexDigit);

    private static UsageProblem Problem(string file, int line, string what) => new($"{file}, line {line}: {what}");
}
