using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Web.Tests;

/// <summary>A server that finds answers within three seconds too quick, as a shop's does.</summary>
public sealed class WatchfulServer : RunningServer
{
    protected override IEnumerable<string> Settings => ["--Server:LeastLookSeconds=3"];
}

/// <summary>
/// Programs that scan mail, by profile: B0 asks for headers, B1 opens the link, B2 follows every link, B3 and B5 run script and are
/// tried with a browser, B4 sends forms with the values they came with, B6 makes a preview.
/// </summary>
public sealed class RobotTests(WatchfulServer server) : IClassFixture<WatchfulServer>
{
    [Fact]
    public async Task B0_to_B2_and_B6_open_whatever_they_like_and_decide_nothing()
    {
        var version = await server.RenderedVersionAsync("scanned by many");
        var link = await server.SentLinkAsync(version);
        var before = await server.CountsAsync();

        using var headers = new Visitor(server);
        using var opens = new Visitor(server);
        using var follows = new Visitor(server);
        using var previews = new Visitor(server);
        for (var time = 0; time < 5; time++)
        {
            await headers.HeadAsync(link);
            await opens.GetAsync((await opens.GetAsync(link)).Location!);
            await FollowAsync(follows, (await follows.GetAsync(link)).Location!);
            var preview = new HttpRequestMessage(HttpMethod.Get, (await previews.GetAsync(link)).Location!);
            preview.Headers.Add("Sec-Purpose", "prefetch");
            await previews.SendAsync(preview);
        }

        Assert.Equal(before, await server.CountsAsync());
    }

    [Fact]
    public async Task B4_sends_every_form_as_it_came_and_is_told_what_is_missing()
    {
        var version = await server.RenderedVersionAsync("defaults sent");
        using var robot = new Visitor(server);
        var review = (await robot.GetAsync(await server.SentLinkAsync(version))).Location!;
        await robot.GetAsync(review);
        var before = await server.CountsAsync();

        foreach (var path in new[] { "/approve", "/changes" })
        {
            var page = await robot.GetAsync(review + path);
            for (var form = 0; form < page.Forms.Count; form++)
                Assert.Equal(HttpStatusCode.UnprocessableEntity, (await robot.PostAsync(page, form: form)).Status);
        }

        Assert.Equal(before, await server.CountsAsync());
    }

    [Fact]
    public async Task B5_fills_everything_at_E0_its_answer_is_flagged_and_films_stay()
    {
        var (robot, review, version) = await server.InvitedClientAsync("filled");

        var decided = await FillAsync(robot, review);

        Assert.Equal(HttpStatusCode.SeeOther, decided.Status);
        var decision = await server.ReadAsync(db => db.Decisions.SingleAsync(d => d.VersionId == version));
        Assert.Equal([RobotSigns.HiddenField, RobotSigns.HiddenBox, RobotSigns.TooQuick], decision.Flags.Split(' '));
        var flagged = await server.ReadAsync(db => db.LoggedEvents.SingleAsync(e => e.SubjectId == decision.Id));
        Assert.Equal(EventKind.Flagged, flagged.Kind);
        Assert.Equal("hidden-field hidden-box too-quick", EventJson.Parse(flagged.EventBytes).Facts["signs"]);
        Assert.Equal(
            flagged.EventSha256,
            await server.ReadAsync(db =>
                db.LogLeaves.Where(l => l.Index == flagged.LeafIndex).Select(l => l.EventSha256).SingleAsync()
            )
        );
        var films = await server.Staff.GetAsync($"/versions/{version}/films");
        Assert.Contains("No films yet", films.Text);
        Assert.Contains("a box was ticked that people do not see", WebUtility.HtmlDecode(films.Text));
        Assert.Contains("looks like a machine", (await server.Staff.GetAsync("/desk")).Text);
        Assert.Contains(
            "Look at",
            await server.ReadAsync(db =>
                db.OutboxMails.Where(m => m.DecisionId == decision.Id && m.Kind == "flagged")
                    .Select(m => m.Subject)
                    .SingleAsync()
            )
        );
        robot.Dispose();
    }

    [Fact]
    public async Task B5_fills_everything_at_E1_and_decides_nothing()
    {
        var (robot, review, version) = await server.InvitedClientAsync(
            "filled with code",
            new() { ["Evidence"] = "code" }
        );

        var decided = await FillAsync(robot, review);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, decided.Status);
        Assert.Equal(0, await server.ReadAsync(db => db.Decisions.CountAsync(d => d.VersionId == version)));
        robot.Dispose();
    }

    [Fact]
    public async Task An_answer_without_our_form_and_without_a_look_is_flagged()
    {
        var version = await server.RenderedVersionAsync("posted straight");
        using var robot = new Visitor(server);
        var review = (await robot.GetAsync(await server.SentLinkAsync(version))).Location!;
        var lastLook = await RunningServer.LastLookAsync(robot, review);

        var decided = await robot.PostAsync(lastLook, new() { ["Opened"] = "made up" });

        Assert.Equal(HttpStatusCode.SeeOther, decided.Status);
        Assert.Equal(
            "no-form never-looked",
            await server.ReadAsync(db =>
                db.Decisions.Where(d => d.VersionId == version).Select(d => d.Flags).SingleAsync()
            )
        );
    }

    [Fact]
    public async Task The_other_answer_within_a_minute_flags_the_first_once()
    {
        var (robot, review, version) = await server.InvitedClientAsync("both answers");
        var changes = await robot.PostAsync(
            await robot.GetAsync(review + "/changes"),
            new()
            {
                ["Changes[0].Thing"] = "order",
                ["Changes[0].Words"] = "filled",
                ["Name"] = "Kim Reed",
            }
        );
        await Task.Delay(3100);
        await robot.PostAsync(await RunningServer.LastLookAsync(robot, review));

        for (var time = 0; time < 2; time++)
            Assert.Equal(HttpStatusCode.Conflict, (await robot.PostAsync(changes)).Status);

        var signs = await server.ReadAsync(db =>
            db.LoggedEvents.Where(e => e.VersionId == version && e.Kind == EventKind.Flagged).ToListAsync()
        );
        Assert.Contains("both-answers", signs.Select(e => EventJson.Parse(e.EventBytes).Facts["signs"]));
        Assert.Single(signs, e => EventJson.Parse(e.EventBytes).Facts["signs"] == "both-answers");
        robot.Dispose();
    }

    [Fact]
    public async Task A_person_who_looks_for_three_seconds_is_not_flagged()
    {
        var (client, review, version) = await server.InvitedClientAsync("a person");
        var form = await client.GetAsync(review + "/approve");
        await Task.Delay(3100);
        await client.PostAsync(await client.PostAsync(form, RunningServer.AllTicked));

        Assert.Equal(
            "",
            await server.ReadAsync(db =>
                db.Decisions.Where(d => d.VersionId == version).Select(d => d.Flags).SingleAsync()
            )
        );
        Assert.Null((await server.OrderOfAsync(version)).HeldSince);
        client.Dispose();
    }

    [Fact]
    public async Task Staff_who_have_looked_end_the_hold_with_their_words()
    {
        var (robot, review, version) = await server.InvitedClientAsync("looked at");
        await FillAsync(robot, review);
        var order = await server.OrderOfAsync(version);
        var page = await server.Staff.GetAsync($"/orders/{order.Id}");
        var at = page.Forms.FindIndex(form => form.Action.EndsWith("/settlement", StringComparison.Ordinal));

        var wordless = await server.Staff.PostAsync(page, new() { ["outcome"] = "stands" }, form: at);
        await server.Staff.PostAsync(
            page,
            new() { ["outcome"] = "stands", ["words"] = "Kim said on the telephone that it was her" },
            form: at
        );

        Assert.Equal(HttpStatusCode.UnprocessableEntity, wordless.Status);
        Assert.Null((await server.OrderOfAsync(version)).HeldSince);
        var lifted = await server.ReadAsync(db =>
            db.LoggedEvents.SingleAsync(e => e.VersionId == version && e.Kind == EventKind.HoldLifted)
        );
        Assert.Equal("the answer stands", EventJson.Parse(lifted.EventBytes).Facts["outcome"]);
        Assert.Contains(
            "Approved, and nothing newer",
            (await server.Staff.GetAsync($"/versions/{version}/films")).Text
        );
        robot.Dispose();
    }

    internal static async Task<Page> FillAsync(Visitor robot, string review)
    {
        var all = new Dictionary<string, string>(RunningServer.AllTicked) { ["Extra"] = "filled", ["Trap"] = "true" };
        var lastLook = await robot.PostAsync(await robot.GetAsync(review + "/approve"), all);
        var last = lastLook.Forms.Count - 1;
        return await robot.PostAsync(
            lastLook,
            new()
            {
                ["Extra"] = "filled",
                ["Trap"] = "true",
                ["Code"] = "12345678",
            },
            form: last
        );
    }

    internal static async Task FollowAsync(Visitor robot, string start, int least = 9)
    {
        var seen = new HashSet<string>();
        var open = new Queue<string>([start]);
        while (open.TryDequeue(out var path) && seen.Count < 60)
        {
            if (!seen.Add(path))
                continue;
            var page = await robot.GetAsync(path);
            if (
                page.Headers.GetValueOrDefault("Content-Type")?.StartsWith("text/html", StringComparison.Ordinal)
                != true
            )
                continue;
            foreach (Match link in Regex.Matches(page.Text, "(?:href|src)=\"(/[^\"#]*)\""))
                open.Enqueue(WebUtility.HtmlDecode(link.Groups[1].Value));
        }
        Assert.True(seen.Count >= least, $"only {seen.Count} addresses followed");
    }
}
