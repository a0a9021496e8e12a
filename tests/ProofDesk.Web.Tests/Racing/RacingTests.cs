using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Tests.Database;
using ProofDesk.Approvals.Log;
using Xunit.Abstractions;

namespace ProofDesk.Web.Tests.Racing;

/// <summary>
/// Many holders of links, each with many tabs, answer one version at one moment, half of them with yes and half with changes; through
/// the server's pages, with stamps and antiforgery tokens. The long count: 1,000 on each engine, and 1,000 different versions.
/// </summary>
[Collection(OneServer.Name)]
public sealed class RacingTests(RunningServer shared, ITestOutputHelper output)
{
    // As in the design of the portal: 64 clients at the same time.
    private const int AtOnce = 64;
    private const int LinksOfAVersion = 20;

    private static bool Long => Environment.GetEnvironmentVariable("PROOFDESK_LONG") == "1";

    [Fact]
    public Task Of_40_answers_at_one_moment_one_decides_and_39_are_told_who() => RaceAsync(shared, 40);

    [SkippableTheory]
    [InlineData("SQLite")]
    [InlineData("PostgreSQL")]
    public async Task Of_1000_answers_at_one_moment_one_decides_and_999_are_told_who(string engine)
    {
        Skip.IfNot(Long, "1,000 racers: PROOFDESK_LONG=1");
        var server = await StartedAsync(engine);
        await RaceAsync(server, 1000);
        await server.DisposeAsync();
    }

    [SkippableTheory]
    [InlineData("SQLite")]
    [InlineData("PostgreSQL")]
    public async Task A_thousand_versions_are_approved_at_once_and_none_waits_long(string engine)
    {
        Skip.IfNot(Long, "1,000 approvals: PROOFDESK_LONG=1");
        var server = await StartedAsync(engine);
        var racers = new List<(Visitor, Page)>();
        foreach (var link in await server.SentOrdersAsync(1000))
            racers.Add(await ReadyAsync(new Visitor(server), link, approve: true));

        var race = await Race.RunAsync(racers, AtOnce);

        output.WriteLine($"{engine}, {AtOnce} at a time: {race}");
        Assert.All(race.Answers, answer => Assert.Equal(HttpStatusCode.SeeOther, answer.Status));
        Assert.Equal(1000, await server.ReadAsync(db => db.Decisions.CountAsync()));
        Assert.Equal(1000, await server.ReadAsync(db => db.LogLeaves.CountAsync(l => l.Kind == LeafType.Decision)));
        Assert.Equal(2000, await server.ReadAsync(db => db.OutboxMails.CountAsync(m => m.DecisionId != null)));
        await server.DisposeAsync();
    }

    private async Task RaceAsync(RunningServer server, int many)
    {
        var version = await server.RenderedVersionAsync($"raced by {many}");
        var holders = Enumerable.Range(0, LinksOfAVersion).Select(at => $"holder{at}@harbour.example");
        var links = await RacingServer.LinksAsync(server, version, holders);
        var visitors = links.Select(_ => new Visitor(server)).ToList();
        var racers = new List<(Visitor, Page)>();
        for (var at = 0; at < many; at++)
        {
            var link = at % LinksOfAVersion;
            racers.Add(
                await ReadyAsync(
                    visitors[link],
                    links[link],
                    approve: at / LinksOfAVersion % 2 == 0,
                    name: $"Racer {at}"
                )
            );
        }

        var race = await Race.RunAsync(racers, many);

        output.WriteLine($"{(server.IsSqlite ? "SQLite" : "PostgreSQL")}: {race}");
        var decided = await server.ReadAsync(db => db.Decisions.SingleAsync(d => d.VersionId == version));
        Assert.Single(race.Answers, answer => answer.Status == HttpStatusCode.SeeOther);
        var refused = race.Answers.Where(answer => answer.Status != HttpStatusCode.SeeOther).ToList();
        Assert.All(
            refused,
            answer =>
            {
                Assert.Equal(HttpStatusCode.Conflict, answer.Status);
                Assert.Equal("This version is already decided", answer.Title);
                Assert.Contains($"{decided.TypedName} has already ", answer.Text);
            }
        );
        Assert.Equal(many - 1, refused.Count);
        Assert.Equal(1, await server.ReadAsync(db => db.LogLeaves.CountAsync(l => l.Ref == decided.Id)));
        var mails = await server.ReadAsync(db =>
            db.OutboxMails.Where(m => m.DecisionId == decided.Id).Select(m => m.Kind).Order().ToListAsync()
        );
        // The winner's link gave the other answer too, in another tab: staff is asked to look, once.
        Assert.Equal(["flagged", "receipt", "shop-receipt"], mails);
        visitors.ForEach(visitor => visitor.Dispose());
    }

    /// <summary>Opened the link, read the page, filled the form, and has the last look before them.</summary>
    private static async Task<(Visitor, Page)> ReadyAsync(
        Visitor who,
        string link,
        bool approve,
        string name = "Kim Reed"
    )
    {
        var review = (await who.GetAsync(link)).Location!;
        await who.GetAsync(review);
        var form = await who.GetAsync(review + (approve ? "/approve" : "/changes"));
        var lastLook = await who.PostAsync(
            form,
            approve
                ? new(RunningServer.AllTicked) { ["Name"] = name }
                : new()
                {
                    ["Changes[0].Thing"] = "order",
                    ["Changes[0].Words"] = "the oars are too long",
                    ["Name"] = name,
                }
        );
        Assert.Equal("A last look", lastLook.Title);
        return (who, lastLook);
    }

    private static async Task<RacingServer> StartedAsync(string engine)
    {
        var postgres = engine == "PostgreSQL" ? await PostgresServer.OrSkip().NewDatabaseAsync(migrated: false) : "";
        var server = new RacingServer(postgres);
        await server.InitializeAsync();
        return server;
    }
}
