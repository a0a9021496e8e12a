using System.Text;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>
/// The expert's smell test, all of it, and the table of docs/physics-facts.md, which these numbers write:
/// PROOFDESK_WRITE_FACTS=1 writes it, otherwise it is compared, so it cannot go stale.
/// </summary>
public sealed class ExpectedFactsTests
{
    private const string Heading = """
        # What must come out

        Facts an expert looks for first (colour-science.md says where the models come from), each with the bound a sceptic would accept
        and what the engine gives. Written by `ExpectedFactsTests` with `PROOFDESK_WRITE_FACTS=1`; every other run compares.

        | # | fact | what is read | bound | measured |
        |---|---|---|---|---|

        """;

    public static TheoryData<string> Ids => [.. ExpectedFacts.All.Select(fact => fact.Id)];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Each_fact_comes_out_within_its_bound(string id)
    {
        var fact = ExpectedFacts.All.Single(f => f.Id == id);

        var readings = fact.Readings;

        Assert.NotEmpty(readings);
        Assert.All(
            readings,
            r =>
                Assert.True(
                    r.Value >= r.Low && r.Value <= r.High,
                    $"{r.What}: {r.Value:0.###}, bound {r.Low} to {r.High}"
                )
        );
    }

    [Fact]
    public void All_24_facts_are_there()
    {
        Assert.Equal(
            Enumerable.Range(1, 24).Select(i => $"P{i}"),
            ExpectedFacts.All.Select(f => f.Id).OrderBy(i => int.Parse(i.AsSpan(1)))
        );
    }

    [Fact]
    public void The_table_in_the_docs_shows_what_is_measured()
    {
        var table = new StringBuilder(Heading.ReplaceLineEndings("\n"));
        foreach (var fact in ExpectedFacts.All.OrderBy(f => int.Parse(f.Id.AsSpan(1))))
        foreach (var (reading, first) in fact.Readings.Select((r, i) => (r, i == 0)))
            table.Append(
                FormattableString.Invariant(
                    $"| {(first ? fact.Id : "")} | {(first ? fact.Text : "")} | {reading.What} | {Number(reading.Low)} to {Number(reading.High)} | {reading.Value:0.00} |\n"
                )
            );
        var path = Path.Combine(Root(), "docs/physics-facts.md");

        if (Environment.GetEnvironmentVariable("PROOFDESK_WRITE_FACTS") == "1")
            File.WriteAllText(path, table.ToString());

        Assert.Equal(table.ToString(), File.ReadAllText(path).ReplaceLineEndings("\n"));
    }

    private static string Number(double value) => FormattableString.Invariant($"{value:0.##}");

    private static string Root()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ProofDesk.sln")))
            folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("ProofDesk.sln not found");
        return folder;
    }
}
