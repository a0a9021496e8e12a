using System.Text.RegularExpressions;

namespace Architecture.Tests;

/// <summary>docs/asvs.md answers every requirement of levels 1 and 2 once, and names no test that is not there.</summary>
public sealed partial class AsvsTests
{
    // Sections of version 5.0.0 and how many of their first requirements are of level 1 or 2; level 3 always comes last.
    private const string Sections =
        "1.1:2 1.2:9 1.3:11 1.4:3 1.5:2 2.1:3 2.2:3 2.3:4 2.4:1 3.2:2 3.3:4 3.4:6 3.5:5 3.7:2 4.1:3 4.2:1 4.3:2 4.4:4 5.1:1 5.2:3 5.3:2 5.4:3 "
        + "6.1:3 6.2:12 6.3:4 6.4:4 6.5:5 6.6:3 6.8:4 7.1:3 7.2:4 7.3:2 7.4:5 7.5:2 7.6:2 8.1:2 8.2:3 8.3:1 8.4:1 9.1:3 9.2:4 10.1:2 10.2:2 10.3:4 "
        + "10.4:11 10.5:5 10.6:2 10.7:3 11.1:2 11.2:3 11.3:3 11.4:4 11.5:1 11.6:1 12.1:3 12.2:2 12.3:4 13.1:1 13.2:5 13.3:2 13.4:5 14.1:2 14.2:4 14.3:3 "
        + "15.1:3 15.2:3 15.3:7 16.1:1 16.2:5 16.3:4 16.4:3 16.5:3 17.1:1 17.2:4 17.3:2";

    private static readonly string Root = FindRoot();
    private static readonly string Text = File.ReadAllText(Path.Combine(Root, "docs/asvs.md"));

    [Fact]
    public void Every_requirement_of_levels_1_and_2_is_answered_once()
    {
        var asked = Sections
            .Split(' ')
            .Select(s => s.Split(':'))
            .SelectMany(s => Enumerable.Range(1, int.Parse(s[1])).Select(n => $"{s[0]}.{n}"))
            .ToList();
        var untilLevel3 = Text[..Text.IndexOf("## What is taken from level 3", StringComparison.Ordinal)];
        var answered = Row()
            .Matches(untilLevel3)
            .Select(m => m.Groups["n"].Value)
            .Concat(NoUse().Matches(untilLevel3).SelectMany(m => Number().Matches(m.Value)).Select(m => m.Value))
            .ToList();

        Assert.Equal(253, asked.Count);
        Assert.Empty(asked.Except(answered));
        Assert.Empty(answered.Except(asked));
        Assert.Empty(answered.GroupBy(n => n).Where(g => g.Count() > 1).Select(g => g.Key));
    }

    [Fact]
    public void Every_answer_begins_with_one_of_the_words_that_are_explained()
    {
        var others = Row().Matches(Text).Where(m => !Answer().IsMatch(m.Groups["answer"].Value)).Select(m => m.Value);

        Assert.Empty(others);
    }

    [Fact]
    public void Every_test_it_names_exists()
    {
        var tests = Directory
            .EnumerateFiles(Path.Combine(Root, "tests"), "*Tests.cs", SearchOption.AllDirectories)
            .GroupBy(path => Path.GetFileNameWithoutExtension(path))
            .ToDictionary(g => g.Key, g => string.Concat(g.Select(File.ReadAllText)));
        var named = Named()
            .Matches(Text)
            .Select(m => (Class: m.Groups["c"].Value, Method: m.Groups["m"].Value))
            .ToList();

        var missing = named.Where(n =>
            !(tests.TryGetValue(n.Class, out var code) && Regex.IsMatch(code, $@"\b{n.Method}\("))
        );

        Assert.True(named.Count > 80, $"{named.Count} tests named");
        Assert.Empty(missing.Distinct());
    }

    private static string FindRoot()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ProofDesk.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("ProofDesk.sln not found");
        return folder;
    }

    [GeneratedRegex(@"^\| (?<n>\d+\.\d+\.\d+) \| [^|]+ \| (?<answer>[^|]+) \|$", RegexOptions.Multiline)]
    private static partial Regex Row();

    [GeneratedRegex(@"^No use, all of it:[^#]*", RegexOptions.Multiline)]
    private static partial Regex NoUse();

    [GeneratedRegex(@"\d+\.\d+\.\d+")]
    private static partial Regex Number();

    [GeneratedRegex("^(Met|In part|Deviation|No use|Yours)\\b")]
    private static partial Regex Answer();

    [GeneratedRegex(@"`(?<c>[A-Z]\w+Tests)\.(?<m>\w+)`")]
    private static partial Regex Named();
}
