using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Web.Tests.Racing;
using Xunit.Abstractions;

namespace ProofDesk.Web.Tests;

/// <summary>
/// The long count of the robots that need no browser (RobotTests has them one by one, Browser.Tests those that run script): 10,000
/// requests of B0, B1, B2 and B6, then 200 rounds each of B4, of B5 against a code, and of B5 against 200 versions at E0.
/// </summary>
public sealed class RobotCountTests(ITestOutputHelper output)
{
    private const int Requests = 10_000;
    private const int Rounds = 200;

    [SkippableFact]
    public async Task Ten_thousand_requests_decide_nothing_and_what_fills_forms_is_flagged_every_time()
    {
        Skip.IfNot(Environment.GetEnvironmentVariable("PROOFDESK_LONG") == "1", "10,000 requests: PROOFDESK_LONG=1");
        var server = new RacingServer("", "--Server:LeastLookSeconds=3");
        await server.InitializeAsync();
        var links = await server.SentOrdersAsync(Rounds);
        var (coded, review, version) = await CodedAsync(server);
        var before = await server.CountsAsync();

        var asked = await OpenAsync(server, links);
        Assert.Equal(before, await server.CountsAsync());

        for (var round = 0; round < Rounds; round++)
        {
            using var sends = new Visitor(server);
            var path = (await sends.GetAsync(links[round])).Location!;
            foreach (var choice in new[] { "/approve", "/changes" })
            {
                var answer = await sends.PostAsync(await sends.GetAsync(path + choice));
                Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
            }
        }
        Assert.Equal(before, await server.CountsAsync());

        for (var round = 0; round < Rounds; round++)
        {
            Assert.Equal(HttpStatusCode.UnprocessableEntity, (await RobotTests.FillAsync(coded, review)).Status);
        }
        Assert.Equal(0, await server.ReadAsync(db => db.Decisions.CountAsync(d => d.VersionId == version)));

        foreach (var link in links)
        {
            using var fills = new Visitor(server);
            var path = (await fills.GetAsync(link)).Location!;
            Assert.Equal(HttpStatusCode.SeeOther, (await RobotTests.FillAsync(fills, path)).Status);
        }
        var flags = await server.ReadAsync(db => db.Decisions.Select(d => d.Flags).ToListAsync());
        Assert.Equal(Rounds, flags.Count);
        Assert.All(flags, flag => Assert.StartsWith("hidden-field hidden-box too-quick", flag));
        Assert.Equal(Rounds, await server.ReadAsync(db => db.Orders.CountAsync(o => o.HeldSince != null)));

        output.WriteLine(
            $"{asked} requests of B0, B1, B2, B6: 0 decisions; {2 * Rounds} forms of B4 sent as they came: 0; B5 at E1 {Rounds} times: 0; "
                + $"B5 at E0 {Rounds} times: {flags.Count} decided, {flags.Count(f => f.Length > 0)} flagged and held"
        );
        coded.Dispose();
        await server.DisposeAsync();
    }

    private static async Task<int> OpenAsync(RacingServer server, IReadOnlyList<string> links)
    {
        var asked = 0;
        HttpMethod[] methods = [HttpMethod.Get, HttpMethod.Head, HttpMethod.Options];
        for (var round = 0; asked < Requests; round++)
        {
            using var robot = new Visitor(server);
            var link = links[round % links.Count];
            var path = (await robot.GetAsync(link)).Location!;
            foreach (var address in new[] { link, path, path + "/approve", path + "/changes", path + "/reminders" })
            {
                foreach (var method in methods)
                {
                    await robot.SendAsync(new HttpRequestMessage(method, address));
                }
                var ahead = new HttpRequestMessage(HttpMethod.Get, address);
                ahead.Headers.Add("Sec-Purpose", "prefetch");
                await robot.SendAsync(ahead);
            }
            asked += 21;
            if (round % 50 == 0)
            {
                // Versions without pictures have fewer addresses.
                await RobotTests.FollowAsync(robot, path, least: 5);
                asked += 5;
            }
        }
        return asked;
    }

    private static async Task<(Visitor, string, Guid)> CodedAsync(RacingServer server)
    {
        var version = await server.RenderedVersionAsync("asks for a code", new() { ["Evidence"] = "code" });
        var client = new Visitor(server);
        return (client, (await client.GetAsync(await server.SentLinkAsync(version))).Location!, version);
    }
}
