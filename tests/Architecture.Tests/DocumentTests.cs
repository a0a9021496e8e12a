using System.Text.RegularExpressions;

namespace Architecture.Tests;

/// <summary>A guide that leads nowhere is worse than none.</summary>
public sealed class DocumentTests
{
    [Fact]
    public void Every_link_and_picture_of_the_documents_is_there()
    {
        var missing = Documents().SelectMany(d => Missing(d, File.ReadAllText(d))).ToList();

        Assert.Empty(missing);
    }

    [Fact]
    public void A_link_to_nothing_is_found()
    {
        var text =
            "[one](decisions) ![two](no-such-picture.png) [three](https://example.org/x) [four](#here) [five](no-page.md#part)";

        var missing = Missing(Path.Combine(House.Root, "docs", "twin.md"), text);

        Assert.Equal(["docs/twin.md leads to no-such-picture.png", "docs/twin.md leads to no-page.md"], missing);
    }

    private static IEnumerable<string> Documents() =>
        Directory
            .EnumerateFiles(House.Root, "*.md", SearchOption.AllDirectories)
            .Where(f =>
                !Regex.IsMatch(
                    Path.GetRelativePath(House.Root, f),
                    "(^|/)(bin|obj|node_modules|artifacts|data|[.]git)/"
                )
            );

    private static IEnumerable<string> Missing(string document, string text) =>
        Regex
            .Matches(Regex.Replace(text, "`[^`\n]*`", ""), @"\]\((?!https?:|mailto:|#)([^)\s#]+)(?:#[^)]*)?\)")
            .Select(m => m.Groups[1].Value)
            .Where(to => !Path.Exists(Path.Combine(Path.GetDirectoryName(document)!, to)))
            .Select(to => $"{Path.GetRelativePath(House.Root, document)} leads to {to}");
}
