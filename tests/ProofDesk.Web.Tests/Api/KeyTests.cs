using System.Net;
using System.Net.Sockets;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Tests.Inventory;

namespace ProofDesk.Web.Tests.Api;

/// <summary>Keys: made and ended in the desk, shown once, and nothing else opens the API.</summary>
[Collection(OneApi.Name)]
public sealed class KeyTests(ApiServer server)
{
    [Fact]
    public async Task A_key_is_shown_once_counts_until_it_is_ended_and_both_are_in_the_log()
    {
        var page = await server.Staff.GetAsync("/keys");
        Dictionary<string, string> fields = new()
        {
            ["Name"] = "nightly import",
            ["Scope"] = "Orders",
            ["Days"] = "30",
        };
        var made = await server.Staff.PostAsync(page, fields, Form(page, "/keys"));

        Assert.Equal(HttpStatusCode.OK, made.Status);
        var secret = Regex.Match(made.Text, "secret-token:[A-Za-z0-9_-]+").Value;
        Assert.Equal(13 + 47, secret.Length);
        var key = await server.ReadAsync(db => db.ApiKeys.AsNoTracking().SingleAsync(k => k.Name == "nightly import"));
        Assert.Equal(LinkToken.DigestOf(secret[13..]), key.SecretSha256);
        Assert.InRange(key.ExpiresAt - key.CreatedAt, TimeSpan.FromDays(29.9), TimeSpan.FromDays(30.1));
        Assert.Equal(HttpStatusCode.OK, (await server.AskAsync(secret, HttpMethod.Get, "/api/v1/orders")).Status);
        await server.Service<ApiKeys>().WriteSeenAsync();
        var listed = await server.Staff.GetAsync("/keys");
        Assert.DoesNotContain("secret-token", listed.Text);
        Assert.Contains("nightly import", listed.Text);
        Assert.NotNull(
            await server.ReadAsync(db => db.ApiKeys.Where(k => k.Id == key.Id).Select(k => k.LastUsedAt).SingleAsync())
        );

        var again = await server.Staff.PostAsync(listed, fields, Form(listed, "/keys"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, again.Status);
        Assert.Contains(
            "A key was called nightly import before, and what it did is recorded under that name.",
            again.Text
        );

        var ended = await server.Staff.PostAsync(listed, form: Form(listed, $"/keys/{key.Id}/end"));
        Assert.Equal("/keys", ended.Location);
        Assert.Equal(
            HttpStatusCode.Unauthorized,
            (await server.AskAsync(secret, HttpMethod.Get, "/api/v1/orders")).Status
        );
        var events = await server.ReadAsync(db =>
            db.LoggedEvents.Where(e => e.SubjectId == key.Id).OrderBy(e => e.LeafIndex).ToListAsync()
        );
        Assert.Equal([EventKind.ApiKeyMade, EventKind.ApiKeyEnded], events.Select(e => e.Kind));
        Assert.Equal("taking orders", EventJson.Parse(events[0].EventBytes).Facts["scope"]);
    }

    [Fact]
    public async Task A_form_with_mistakes_comes_back_with_all_of_them()
    {
        var page = await server.Staff.GetAsync("/keys");

        var wrong = await server.Staff.PostAsync(
            page,
            new() { ["Name"] = new string('k', 61), ["Days"] = "7" },
            Form(page, "/keys")
        );

        Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.Status);
        Assert.Contains("Names of keys have at most 60 characters.", wrong.Text);
        Assert.Contains("Choose what it may do.", wrong.Text);
    }

    [Fact]
    public async Task Without_a_key_every_route_answers_401_as_a_problem_and_cookies_do_not_count()
    {
        var wrong = new List<string>();
        var leaves = (await server.CountsAsync()).Leaves;
        foreach (var route in Routes())
        {
            foreach (var signedIn in new[] { false, true })
            {
                using var request = new HttpRequestMessage(new HttpMethod(route.Method), Somewhere(route));
                using var visitor = signedIn ? null : server.NewVisitor();
                var answer = await (visitor ?? server.Staff).SendAsync(request);
                if (
                    answer.Status != HttpStatusCode.Unauthorized
                    || answer.Headers.GetValueOrDefault("WWW-Authenticate") != "Bearer"
                    || answer.Headers.GetValueOrDefault("Content-Type") != "application/problem+json; charset=utf-8"
                    || !answer.Text.Contains("no-key", StringComparison.Ordinal)
                )
                    wrong.Add($"{route.Name} answered {(int)answer.Status} {answer.Text}");
            }
        }

        Assert.Empty(wrong);
        Assert.Equal(leaves, (await server.CountsAsync()).Leaves);
    }

    [Fact]
    public async Task A_key_of_a_lesser_scope_finds_what_was_never_there()
    {
        var wrong = new List<string>();
        var closed = 0;
        foreach (var scope in Enum.GetValues<KeyScope>())
        {
            var never = await server.GetAsync("/api/v1/never-there", scope);
            foreach (var route in Routes())
            {
                var rights = route.Policies.Select(Enum.Parse<Right>).ToList();
                Assert.NotEmpty(rights);
                if (rights.TrueForAll(right => scope.Has(right)))
                    continue;
                closed++;
                var answer = await server.AskAsync(
                    server.Keys[scope],
                    new HttpMethod(route.Method),
                    Somewhere(route),
                    route.Writes ? "{}" : null
                );
                if (answer.Status != HttpStatusCode.NotFound || Bare(answer) != Bare(never))
                    wrong.Add($"{scope}: {route.Name} answered {(int)answer.Status}");
            }
        }

        Assert.Empty(wrong);
        Assert.True(closed >= 20, $"{closed} closed routes");
    }

    [Fact]
    public async Task A_key_opens_nothing_of_the_desk_and_never_people_or_rules()
    {
        foreach (var path in new[] { "/desk", "/orders/new", "/keys", "/keys/api" })
        {
            var answer = await server.AskAsync(server.Keys[KeyScope.Orders], HttpMethod.Get, path);
            Assert.Equal((HttpStatusCode.Redirect, "/sign-in"), (answer.Status, answer.Headers["Location"]));
        }
        Right[] never =
        [
            Right.KeepPeople,
            Right.RuleShop,
            Right.ReadAudit,
            Right.WriteAnswers,
            Right.ReleaseUnapproved,
            Right.KeepMeans,
            Right.OwnAccount,
        ];
        Assert.All(
            Enum.GetValues<KeyScope>(),
            scope => Assert.All(never, right => Assert.False(scope.Has(right), $"{scope} {right}"))
        );
    }

    [Fact]
    public async Task A_page_of_another_site_is_refused_before_the_key_is_looked_at()
    {
        var answer = await server.PostAsync("/api/v1/orders", "{}", KeyScope.Orders, "Sec-Fetch-Site", "cross-site");

        Assert.Equal(HttpStatusCode.Forbidden, answer.Status);
        Assert.Equal("application/problem+json", answer.MediaType);
        Assert.Contains("from-another-site", answer.Text);
    }

    [Fact]
    public async Task Who_shows_keys_nobody_made_waits_after_twenty_and_a_good_key_is_not_held_up()
    {
        using var http = From("127.0.0.83");
        var statuses = new List<int>();
        for (var i = 0; i < 21; i++)
        {
            http.DefaultRequestHeaders.Authorization = new("Bearer", ApiKeys.Prefix + LinkToken.New());
            using var answer = await http.GetAsync(new Uri("/api/v1/orders", UriKind.Relative));
            statuses.Add((int)answer.StatusCode);
            if (i == 20)
                Assert.InRange(answer.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 60);
        }
        http.DefaultRequestHeaders.Authorization = new("Bearer", server.Keys[KeyScope.Reading]);
        using var good = await http.GetAsync(new Uri("/api/v1/orders", UriKind.Relative));

        Assert.Equal(401, statuses[0]);
        // A minute may end in between.
        Assert.Contains(429, statuses);
        Assert.Equal(HttpStatusCode.OK, good.StatusCode);
    }

    [Fact]
    public void A_key_in_a_log_line_is_cut_out() =>
        Assert.Equal(
            "asked with secret-token:... today",
            Web.Security.LinkTokens.Redact("asked with " + ApiKeys.Prefix + LinkToken.New() + " today")
        );

    private IEnumerable<ServedRoute> Routes() =>
        ServedRoute
            .Of(server.Service<EndpointDataSource>())
            .Where(r => r.Path.StartsWith("/api/", StringComparison.Ordinal) && r.Path != "/api/v1/openapi.json");

    private string Somewhere(ServedRoute route) =>
        route.Address(
            (path, name) =>
                name == "sha256" ? new string('0', 64)
                : path.Contains("/orders/", StringComparison.Ordinal) ? server.Order.ToString()
                : path.Contains("/records/", StringComparison.Ordinal) ? server.Decision.ToString()
                : server.Version.ToString()
        );

    private static string Bare(Answer answer) => Regex.Replace(answer.Text, "\"trace\":\"[^\"]*\"", "");

    private static int Form(Page page, string action) => page.Forms.FindIndex(f => f.Action == action);

    private HttpClient From(string address) =>
        new(
            new SocketsHttpHandler
            {
                ConnectCallback = async (context, cancel) =>
                {
                    var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
                    socket.Bind(new IPEndPoint(IPAddress.Parse(address), 0));
                    await socket.ConnectAsync(IPAddress.Loopback, server.Address.Port, cancel);
                    return new NetworkStream(socket, ownsSocket: true);
                },
            }
        )
        {
            BaseAddress = server.Address,
        };
}
