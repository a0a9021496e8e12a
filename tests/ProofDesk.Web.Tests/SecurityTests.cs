using System.Net;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Web.Tests;

/// <summary>What every answer carries and every stranger meets (ASVS 5.0 3.4, 3.5, 8.2.2).</summary>
[Collection(OneServer.Name)]
public sealed class SecurityTests(RunningServer server)
{
    [Theory]
    [InlineData("/sign-in")]
    [InlineData("/desk")]
    [InlineData("/no-such-page")]
    [InlineData("/css/base.css")]
    [InlineData("/r/short")]
    [InlineData("/f/0000000000000000000000000000000000000000000000000000000000000000/print.png")]
    public async Task Every_answer_carries_the_headers(string path)
    {
        using var stranger = new Visitor(server);

        var headers = (await stranger.GetAsync(path)).Headers;

        var policy = headers["Content-Security-Policy"];
        Assert.StartsWith("default-src 'none'; script-src 'nonce-", policy);
        Assert.Contains("frame-ancestors 'none'", policy);
        Assert.Contains("base-uri 'none'", policy);
        Assert.Contains("require-trusted-types-for 'script'", policy);
        Assert.DoesNotContain("unsafe", policy);
        Assert.Equal("nosniff", headers["X-Content-Type-Options"]);
        Assert.Equal("no-referrer", headers["Referrer-Policy"]);
        Assert.Equal("same-origin", headers["Cross-Origin-Opener-Policy"]);
        Assert.Equal("same-origin", headers["Cross-Origin-Resource-Policy"]);
        Assert.Equal("noindex, nofollow", headers["X-Robots-Tag"]);
        Assert.False(headers.ContainsKey("Server"));
        if (!path.StartsWith("/css", StringComparison.Ordinal))
            Assert.Equal("no-store", headers["Cache-Control"]);
    }

    [Fact]
    public async Task Pages_have_no_inline_script_style_or_handler()
    {
        var (client, review, version) = await server.InvitedClientAsync("no inline");
        foreach (
            var page in new[]
            {
                await server.Staff.GetAsync("/desk"),
                await server.Staff.GetAsync("/orders/new"),
                await server.Staff.GetAsync($"/versions/{version}"),
                await client.GetAsync(review),
                await client.GetAsync(review + "/approve"),
            }
        )
        {
            Assert.Equal(HttpStatusCode.OK, page.Status);
            Assert.DoesNotMatch("<script(?![^>]*nonce=)", page.Text);
            Assert.DoesNotMatch(@"\sstyle=""", page.Text);
            Assert.DoesNotMatch(@"\son[a-z]+=""", page.Text);
            Assert.DoesNotMatch(@"(src|href)=""(https?:)?//", page.Text);
        }
        client.Dispose();
    }

    [Fact]
    public async Task The_page_that_checks_packets_is_open_to_everybody_and_may_reach_nothing()
    {
        using var stranger = new Visitor(server);

        var answer = await stranger.GetAsync("/verify.html");

        Assert.Equal(HttpStatusCode.OK, answer.Status);
        Assert.Matches(
            "^default-src 'none'; script-src 'sha256-[^']{44}'; style-src 'sha256-[^']{44}'; img-src blob:; base-uri 'none'; "
                + "form-action 'none'; require-trusted-types-for 'script'; frame-ancestors 'none'$",
            answer.Headers["Content-Security-Policy"]
        );
        Assert.DoesNotMatch(@"(src|href)=""(https?:)?//", answer.Text);
    }

    [Fact]
    public async Task Every_route_that_writes_refuses_a_form_without_its_token()
    {
        var routes = server
            .Service<EndpointDataSource>()
            .Endpoints.OfType<RouteEndpoint>()
            .Select(e =>
                (
                    Route: e.RoutePattern.RawText!,
                    Method: e.Metadata.GetMetadata<HttpMethodMetadata>()
                        ?.HttpMethods.FirstOrDefault(m => m is not ("GET" or "HEAD" or "OPTIONS"))
                )
            )
            .Where(e => e.Method is not null)
            .ToList();
        Assert.True(routes.Count >= 10, $"{routes.Count} routes found");

        foreach (var (route, method) in routes)
        {
            var path =
                "/"
                + System.Text.RegularExpressions.Regex.Replace(
                    route.TrimStart('/'),
                    @"\{[^}]*guid[^}]*\}",
                    _ => Guid.NewGuid().ToString()
                );
            path = System.Text.RegularExpressions.Regex.Replace(path, @"\{[^}]*\}", "x");

            var answer = await server.Staff.SendAsync(
                new HttpRequestMessage(new HttpMethod(method!), path) { Content = new FormUrlEncodedContent([]) }
            );

            // A session counts for nothing there, so no form of another site can use it: a key or nothing.
            var expected = path.StartsWith("/api/", StringComparison.Ordinal)
                ? HttpStatusCode.Unauthorized
                : HttpStatusCode.BadRequest;
            Assert.True(answer.Status == expected, $"{method} {route} answered {answer.Status}");
        }
    }

    [Fact]
    public async Task A_form_sent_from_another_site_is_refused()
    {
        var request = new HttpRequestMessage(HttpMethod.Post, "/sign-out") { Content = new FormUrlEncodedContent([]) };
        request.Headers.Add("Sec-Fetch-Site", "cross-site");

        var answer = await server.Staff.SendAsync(request);

        Assert.Equal(HttpStatusCode.Forbidden, answer.Status);
        Assert.Equal("Not from here", answer.Title);
    }

    [Theory]
    [InlineData("/orders/new")]
    [InlineData("/orders/00000000-0000-0000-0000-000000000001")]
    [InlineData("/versions/00000000-0000-0000-0000-000000000001")]
    [InlineData("/records")]
    [InlineData("/outbox")]
    public async Task Without_signing_in_the_desk_is_closed(string path)
    {
        using var stranger = new Visitor(server);

        var answer = await stranger.GetAsync(path);

        Assert.Equal(HttpStatusCode.Redirect, answer.Status);
        Assert.Equal("/sign-in", answer.Location);
    }

    [Fact]
    public async Task A_link_opens_its_own_order_and_no_other()
    {
        var (mine, review, _) = await server.InvitedClientAsync("mine");
        var (theirs, otherReview, otherVersion) = await server.InvitedClientAsync("theirs");
        var picture = await server.ReadAsync(db =>
            db.VersionFiles.Where(f => f.VersionId == otherVersion && f.MediaType == "image/png")
                .Select(f => f.Sha256)
                .FirstAsync()
        );
        var film = await server.ReadAsync(db =>
            db.VersionFiles.Where(f => f.VersionId == otherVersion && f.MediaType == "image/tiff")
                .Select(f => f.Sha256)
                .FirstAsync()
        );

        Assert.Equal(HttpStatusCode.OK, (await mine.GetAsync(review)).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await mine.GetAsync(otherReview)).Status);
        using var stranger = new Visitor(server);
        Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync($"/f/{picture}/p.png")).Status);
        Assert.Equal(HttpStatusCode.OK, (await theirs.GetAsync($"/f/{picture}/p.png")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await theirs.GetAsync($"/f/{film}/film.tif")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await server.Staff.GetAsync($"/f/{film}/film.tif")).Status);
        mine.Dispose();
        theirs.Dispose();
    }

    [Fact]
    public async Task A_served_picture_has_the_digest_of_its_address()
    {
        var version = await server.RenderedVersionAsync("digests");
        var files = await server.ReadAsync(db =>
            db.VersionFiles.Where(f => f.VersionId == version && f.MediaType == "image/png").ToListAsync()
        );
        // An answer that renews the session's cookie is never kept: after a long render the first one does.
        await server.Staff.GetAsync("/desk");

        foreach (var file in files)
        {
            var served = await server.Staff.GetAsync($"/f/{file.Sha256}/picture.png");
            Assert.Equal(
                file.Sha256,
                Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(served.Bytes))
            );
            Assert.Equal("private, max-age=31536000, immutable", Sorted(served.Headers["Cache-Control"]));
        }
    }

    [Fact]
    public async Task The_first_password_link_works_once()
    {
        using var second = new Visitor(server);

        var again = await second.GetAsync(new Uri(server.OwnerLink).PathAndQuery);

        Assert.Equal(HttpStatusCode.NotFound, again.Status);
    }

    [Fact]
    public async Task An_unknown_address_is_answered_like_a_wrong_password()
    {
        using var guesser = new Visitor(server);
        var page = await guesser.GetAsync("/sign-in");

        var answer = await guesser.PostAsync(
            page,
            new() { ["Email"] = "nobody@lindhag.example", ["Password"] = "guess" }
        );

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
        Assert.Contains("Address and password do not belong together.", answer.Text);
    }

    private static string Sorted(string cacheControl) =>
        cacheControl.Replace("max-age=31536000, private", "private, max-age=31536000");
}
