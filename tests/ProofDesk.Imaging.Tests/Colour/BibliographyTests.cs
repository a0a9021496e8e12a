using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;

namespace ProofDesk.Imaging.Tests.Colour;

/// <summary>A formula cites a key; the key is explained in docs/colour-science.md, or the citation is worth nothing.</summary>
public sealed partial class BibliographyTests
{
    [Fact]
    public void Every_key_cited_in_Imaging_Printing_and_the_method_pages_is_in_the_bibliography()
    {
        var root = Root();
        var files = new[] { "src/ProofDesk.Imaging", "src/ProofDesk.Printing" }
            .SelectMany(folder => Sources(Path.Combine(root, folder), "*.cs"))
            .Concat(Sources(Path.Combine(root, "docs/methods"), "*.md"))
            .ToArray();

        var unknown = files.SelectMany(file =>
            Unknown(File.ReadAllText(file), Bibliography()).Select(key => $"{Path.GetFileName(file)}: {key}")
        );

        Assert.True(files.Length > 30, $"{files.Length} files read");
        Assert.Empty(unknown);
    }

    // The twin that breaks the rule.
    [Fact]
    public void A_key_that_nobody_explains_is_found()
    {
        Assert.Equal(["NOBODY-1900"], Unknown("// [KUBELKA-1954] and [NOBODY-1900], equation 3", Bibliography()));
    }

    private static string[] Unknown(string text, HashSet<string> known) =>
        [.. Citation().Matches(text).Select(match => match.Groups[1].Value).Where(key => !known.Contains(key))];

    private static HashSet<string> Bibliography() =>
        [
            .. Entry()
                .Matches(File.ReadAllText(Path.Combine(Root(), "docs/colour-science.md")))
                .Select(match => match.Groups[1].Value),
        ];

    private static IEnumerable<string> Sources(string folder, string pattern) =>
        Directory
            .EnumerateFiles(folder, pattern, SearchOption.AllDirectories)
            .Where(file =>
                !file.Contains(
                    $"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}",
                    StringComparison.Ordinal
                )
            );

    private static string Root([CallerFilePath] string thisFile = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(thisFile)!, "../../.."));

    [GeneratedRegex(@"\[([A-Z]{3,}[A-Z0-9]*-[A-Z0-9-]*[0-9]|PHYSICS)\]")]
    private static partial Regex Citation();

    [GeneratedRegex(@"^\| ([A-Z][A-Z0-9-]+) \|", RegexOptions.Multiline)]
    private static partial Regex Entry();
}
