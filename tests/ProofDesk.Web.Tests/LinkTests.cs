using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Judges;

namespace ProofDesk.Web.Tests;

/// <summary>The mailed link; conditions L1, L7, L9, L10, L12 of docs/security.md.</summary>
[Collection(OneServer.Name)]
public sealed class LinkTests(RunningServer server)
{
    [Fact]
    public async Task Visits_of_scanners_decide_nothing()
    {
        var version = await server.RenderedVersionAsync("scanned");
        var link = await server.SentLinkAsync(version);
        using var scanner = new Visitor(server);
        var review = (await scanner.GetAsync(link)).Location!;
        var before = await server.CountsAsync();

        for (var i = 0; i < (LongCounts.Asked ? 250 : 50); i++)
        {
            Assert.Equal(HttpStatusCode.SeeOther, (await scanner.GetAsync(link)).Status);
            Assert.Equal(HttpStatusCode.SeeOther, (await scanner.HeadAsync(link)).Status);
            Assert.Equal(HttpStatusCode.OK, (await scanner.HeadAsync(review)).Status);
            Assert.Equal(
                HttpStatusCode.OK,
                (await scanner.GetAsync($"{review}/{(i % 2 == 0 ? "approve" : "changes")}")).Status
            );
        }

        Assert.Equal(before, await server.CountsAsync());
    }

    [Fact]
    public async Task A_link_that_lost_its_end_is_called_incomplete()
    {
        var link = await server.SentLinkAsync(await server.RenderedVersionAsync("cut off"));
        using var client = new Visitor(server);

        var page = await client.GetAsync(link[..^5]);

        Assert.Equal(HttpStatusCode.NotFound, page.Status);
        Assert.Equal("This link is incomplete", page.Title);
    }

    [Fact]
    public async Task A_made_up_link_finds_nothing()
    {
        using var stranger = new Visitor(server);

        var page = await stranger.GetAsync("/r/" + Adapters.Database.LinkToken.New());

        Assert.Equal(HttpStatusCode.NotFound, page.Status);
        Assert.Equal("Nothing here", page.Title);
    }

    [Fact]
    public async Task A_link_called_back_is_gone_at_once_also_for_who_has_the_page_open()
    {
        var (client, review, version) = await server.InvitedClientAsync("called back");
        var link = await server.SentLinkAsync(version);
        var send = await server.Staff.GetAsync($"/versions/{version}/send");
        for (var form = 2; form < send.Forms.Count; form++)
            await server.Staff.PostAsync(send, form: form);

        var again = await client.GetAsync(review);
        using var late = new Visitor(server);
        var opened = await late.GetAsync(link);

        Assert.Equal(HttpStatusCode.Gone, again.Status);
        Assert.Equal("This link is no longer in use", again.Title);
        Assert.Contains("We have called it back. Ask us for a new one.", again.Text);
        Assert.Contains("telephone", again.Text);
        Assert.Equal(HttpStatusCode.Gone, opened.Status);
        Assert.Equal("This link is no longer in use", opened.Title);
        client.Dispose();
    }

    [Fact]
    public async Task Without_the_link_a_review_page_is_closed()
    {
        var (client, review, _) = await server.InvitedClientAsync("closed");
        using var stranger = new Visitor(server);

        var page = await stranger.GetAsync(review);

        Assert.Equal(HttpStatusCode.NotFound, page.Status);
        Assert.Equal("Open the link in your mail again", page.Title);
        client.Dispose();
    }

    [Fact]
    public async Task The_token_stands_nowhere_in_the_database()
    {
        var link = await server.SentLinkAsync(await server.RenderedVersionAsync("hashed"));
        var token = link["/r/".Length..];

        var invitation = await server.ReadAsync(db => db.Invitations.OrderByDescending(i => i.CreatedAt).FirstAsync());

        Assert.Equal(Adapters.Database.LinkToken.DigestOf(token), invitation.TokenSha256);
    }

    [Fact]
    public void A_token_is_cut_out_of_what_is_logged()
    {
        Assert.Equal(
            "Request starting GET http://localhost:5080/r/... - 303",
            Security.LinkTokens.Redact("Request starting GET http://localhost:5080/r/AbC-12_xyz - 303")
        );
    }
}
