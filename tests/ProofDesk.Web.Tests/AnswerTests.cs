using System.Net;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Web.Tests;

/// <summary>Answers beside the main path: given elsewhere, taken back, looked at, or met by a busy database.</summary>
[Collection(OneServer.Name)]
public sealed class AnswerTests(RunningServer server)
{
    [Fact]
    public async Task An_approval_by_telephone_is_recorded_as_written_down_by_staff()
    {
        var (client, review, version) = await server.InvitedClientAsync("by telephone");
        var form = await server.Staff.GetAsync($"/versions/{version}/elsewhere");
        var said = new Dictionary<string, string>
        {
            ["Choice"] = "approve",
            ["Who"] = "Kim Reed",
            ["How"] = "by telephone",
            ["Day"] = "2026-01-05",
        };

        var first = await server.Staff.PostAsync(form, said, form: 1);
        var second = await server.Staff.PostAsync(form, said, form: 1);
        var record = await server.Staff.GetAsync(first.Location!);
        var look = await client.GetAsync(review);

        Assert.Equal(HttpStatusCode.Redirect, first.Status);
        Assert.Equal(first.Location, second.Location);
        Assert.Equal("Kim Reed approved elsewhere, written down by owner@lindhag.example", record.Title);
        Assert.Contains("by telephone, on Mon 5 Jan 2026. Not answered through a link.", record.Text);
        Assert.Contains("S0: given elsewhere and written down by staff", record.Text);
        Assert.Contains("We have written down that Kim Reed has approved version 1", look.Text);
        Assert.Equal(
            EvidenceLevel.GivenElsewhere,
            await server.ReadAsync(db =>
                db.Decisions.Where(d => d.VersionId == version).Select(d => d.EvidenceLevel).SingleAsync()
            )
        );
        client.Dispose();
    }

    [Fact]
    public async Task An_answer_given_elsewhere_says_all_that_is_missing()
    {
        var (client, _, version) = await server.InvitedClientAsync("told nothing");
        var form = await server.Staff.GetAsync($"/versions/{version}/elsewhere");

        var answer = await server.Staff.PostAsync(form, form: 1);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        foreach (
            var text in new[]
            {
                "Choose what the client said.",
                "Write who said it.",
                "Write how it came: by telephone, by mail, at the counter.",
                "Write the day it was said.",
            }
        )
            Assert.Contains(text, answer.Text);
        Assert.Equal(0, await server.ReadAsync(db => db.Decisions.CountAsync(d => d.VersionId == version)));
        client.Dispose();
    }

    [Fact]
    public async Task Visits_of_a_link_are_counted_apart_and_head_and_prefetch_are_not()
    {
        var (client, review, version) = await server.InvitedClientAsync("counted");
        var before = await server.CountsAsync();
        var ahead = new HttpRequestMessage(HttpMethod.Get, review);
        ahead.Headers.Add("Sec-Purpose", "prefetch;prerender");

        await client.GetAsync(review);
        await client.GetAsync(review);
        await client.HeadAsync(review);
        await client.SendAsync(ahead);
        var orderId = await server.ReadAsync(db =>
            db.ProofVersions.Where(v => v.Id == version).Select(v => v.OrderId).FirstAsync()
        );
        var order = await server.Staff.GetAsync($"/orders/{orderId}");

        // Once when the link was followed, and twice here.
        Assert.Contains("link opened 3 times (may be a scanner)", order.Text);
        Assert.Equal(before, await server.CountsAsync());
        client.Dispose();
    }

    [Fact]
    public async Task A_link_whose_time_is_over_says_so_to_who_has_the_page_open()
    {
        var (client, review, version) = await server.InvitedClientAsync("ran out");
        await server.ReadAsync(db =>
            db.Invitations.Where(i => i.VersionId == version)
                .ExecuteUpdateAsync(s => s.SetProperty(i => i.ExpiresAt, DateTimeOffset.UtcNow.AddMinutes(-1)))
        );

        var page = await client.GetAsync(review);

        Assert.Equal(HttpStatusCode.Gone, page.Status);
        Assert.Equal("This link is no longer in use", page.Title);
        Assert.Contains("Its time is over. Ask us for a new one.", page.Text);
        Assert.Contains("telephone", page.Text);
        client.Dispose();
    }

    [Fact]
    public async Task While_the_database_is_held_the_form_is_given_back_filled()
    {
        var (client, review, version) = await server.InvitedClientAsync("busy");
        var form = await client.GetAsync(review + "/approve");
        var lastLook = await client.PostAsync(
            form,
            new()
            {
                ["Words"] = "true",
                ["Size"] = "true",
                ["Garments"] = "true",
                ["Colours"] = "true",
                ["Name"] = "Kim Reed",
            }
        );
        Page busy;
        await using (
            var holder = new SqliteConnection(
                new SqliteConnectionStringBuilder { DataSource = server.DatabasePath }.ToString()
            )
        )
        {
            await holder.OpenAsync();
            await using var hold = holder.CreateCommand();
            hold.CommandText = "BEGIN IMMEDIATE";
            await hold.ExecuteNonQueryAsync();
            busy = await client.PostAsync(lastLook);
            hold.CommandText = "ROLLBACK";
            await hold.ExecuteNonQueryAsync();
        }

        var again = await client.PostAsync(busy);

        Assert.Equal(HttpStatusCode.ServiceUnavailable, busy.Status);
        Assert.Equal("5", busy.Headers["Retry-After"]);
        Assert.Equal("Not written yet", busy.Title);
        Assert.Equal("Kim Reed", busy.Forms[0].Hidden["Name"]);
        Assert.Equal(HttpStatusCode.SeeOther, again.Status);
        Assert.Equal(1, await server.ReadAsync(db => db.Decisions.CountAsync(d => d.VersionId == version)));
        client.Dispose();
    }

    [Fact]
    public async Task Staff_can_read_how_the_server_is()
    {
        var page = await server.Staff.GetAsync("/health");

        Assert.Equal("State of the server", page.Title);
        Assert.Contains(System.Net.WebUtility.HtmlEncode(Adapters.Codecs.Sandbox.OfThisMachine.Description), page.Text);
        Assert.Contains("no mail server is set; letters are files in the pickup folder", page.Text);
    }
}
