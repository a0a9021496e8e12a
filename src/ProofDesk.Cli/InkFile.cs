using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Cli;

/// <summary>--inks: "auto", a number, or a file that lists ink ids, colours to mix and the shop's own inks.</summary>
internal static class InkFile
{
    private const string Hint = "docs/ink-files.md shows a whole file; 'proofdesk inks --file FILE' reads one alone";

    /// <param name="error">What was assumed about the shop's own inks is said here.</param>
    /// <exception cref="UsageProblem">Neither of them, or the file names an ink that is not there.</exception>
    public static InkChoice Read(string text, TextWriter error)
    {
        if (text == "auto")
            return InkChoice.Automatic;
        if (int.TryParse(text, out var count))
            return count is >= 1 and <= 20
                ? InkChoice.Exactly(count)
                : throw new UsageProblem($"--inks takes 1 to 20 colours; {count} given");
        if (!File.Exists(text))
            throw new UsageProblem($"--inks is auto, a number or a file; there is no file '{text}'");
        var inks = new List<Ink>();
        var colours = new List<string>();
        foreach (var entry in Entries(text))
            if (entry.Definition is { } own)
                inks.Add(Own(own, text, error));
            else if (entry.Word!.StartsWith('#'))
                colours.Add(
                    IsColour(entry.Word)
                        ? entry.Word.ToLowerInvariant()
                        : throw Problem(text, entry.Line, $"'{entry.Word}' is not #rrggbb")
                );
            else
                inks.Add(
                    InkLibrary.Find(entry.Word)
                        ?? throw Problem(
                            text,
                            entry.Line,
                            $"no ink '{entry.Word}'{Nearest.Guess(entry.Word, InkLibrary.Default.Select(i => i.Id))}"
                        )
                );
        return inks.Count + colours.Count == 0
            ? throw new UsageProblem($"{text} lists no ink")
            : new(null, [.. inks], [.. colours]);
    }

    /// <summary>The lines of a file that names inks, JSON or CSV.</summary>
    /// <exception cref="UsageProblem">It is neither.</exception>
    public static IReadOnlyList<InkFileEntry> Entries(string path)
    {
        if (!path.EndsWith(".json", StringComparison.OrdinalIgnoreCase))
            return [.. Csv(path)];
        var folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
        string? Open(string name) =>
            File.Exists(Path.Combine(folder, name)) ? File.ReadAllText(Path.Combine(folder, name)) : null;
        var (entries, problems) = InkFileText.Read(File.ReadAllText(path), path, Open);
        return problems.IsEmpty ? entries : throw new UsageProblem(string.Join('\n', problems), Hint);
    }

    private static Ink Own(InkDefinition own, string path, TextWriter error)
    {
        var reading = own.Make(path);
        if (reading.Ink is not { } ink)
            throw new UsageProblem(string.Join('\n', reading.Problems), Hint);
        foreach (var warning in reading.Warnings)
            error.WriteLine($"{own.Id}: {warning}");
        return ink;
    }

    /// <summary>First column; a header line "ink" and empty lines are passed over.</summary>
    private static IEnumerable<InkFileEntry> Csv(string path) =>
        File.ReadLines(path)
            .Select((line, i) => new InkFileEntry(i + 1, line.Split(',', ';')[0].Trim().Trim('"'), null))
            .Where(l => l.Word!.Length > 0 && !(l.Line == 1 && l.Word is "ink" or "id"));

    private static bool IsColour(string word) => word.Length == 7 && word.Skip(1).All(char.IsAsciiHexDigit);

    private static UsageProblem Problem(string file, int line, string what) => new($"{file}, line {line}: {what}");
}
