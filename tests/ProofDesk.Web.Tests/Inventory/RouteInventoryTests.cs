using System.Net;
using System.Text.RegularExpressions;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Policies;

namespace ProofDesk.Web.Tests.Inventory;

/// <summary>
/// Every route the server has, asked for what it must not give: without the form's token, without a sign-in, with a link of
/// another order, with other methods (portal W2, W3, W10; ASVS 5.0 3.4, 3.5, 4.1.4, 8.2.2, 8.3.1).
/// </summary>
[Collection(OneInventory.Name)]
public sealed partial class RouteInventoryTests(InventoryServer server)
{
    [Fact]
    public async Task Every_route_is_written_down_in_docs_routes()
    {
        var path = Path.Combine(Root(), "docs/routes.md");
        var text = RouteTable.Text(server.All);
        if (Environment.GetEnvironmentVariable("PROOFDESK_WRITE_ROUTES") == "1")
            await File.WriteAllTextAsync(path, text);

        Assert.Equal(text, await File.ReadAllTextAsync(path));
        Assert.True(server.All.Count >= 100, $"{server.All.Count} routes found");
    }

    [Fact]
    public void Every_route_asks_for_a_sign_in_or_says_to_whom_it_is_open_and_every_form_for_its_token()
    {
        var faults = server.All.SelectMany(RouteTable.Faults);

        Assert.Empty(faults);
    }

    [Fact]
    public void A_route_that_forgets_is_found()
    {
        var faults = server.TestRoutes.Where(r => r.Path == "/test-only/forgetful").SelectMany(RouteTable.Faults);

        Assert.Equal(
            [
                "POST /test-only/forgetful is open to everybody and RouteTable does not say to whom it answers",
                "POST /test-only/forgetful takes a form without its token",
            ],
            faults
        );
    }

    [Fact]
    public async Task Without_its_token_every_form_is_refused_and_nothing_is_written()
    {
        var before = await server.RowsAsync();
        var wrong = new List<string>();
        foreach (var route in Writing())
        {
            // Who has no business there is sent to the door before the form is looked at.
            foreach (var (who, visitor, things) in Everyone().Where(e => route.IsOpen || e.Visitor == server.Staff))
            {
                var answer = await PostAsync(visitor, route.Address(things.Value), []);
                if (answer.Status != HttpStatusCode.BadRequest || answer.Title != "The form had gone stale")
                    wrong.Add($"{route.Name} answered {who} {(int)answer.Status}");
            }
        }

        Assert.Empty(wrong);
        Assert.Equal(before, await server.RowsAsync());
        AllCarryTheHeaders();
    }

    [Fact]
    public async Task Without_a_sign_in_every_route_of_the_desk_leads_to_the_door_and_nothing_is_written()
    {
        var before = await server.RowsAsync();
        using var stranger = server.NewVisitor();
        var token = await TokenAsync(stranger, "/sign-in");
        var wrong = new List<string>();
        foreach (var route in server.Routes.Where(r => !r.IsOpen))
        {
            foreach (var things in new[] { server.Answered, server.Open, Things.MadeUp })
            {
                var answer = await AskAsync(stranger, route, things, token);
                if (answer is not { Status: HttpStatusCode.Redirect, Location: "/sign-in" })
                    wrong.Add($"{route.Name} answered {(int)answer.Status} {answer.Location}");
            }
        }

        Assert.Empty(wrong);
        Assert.Equal(before, await server.RowsAsync());
        AllCarryTheHeaders();
    }

    [Fact]
    public async Task Another_orders_link_finds_what_was_never_there()
    {
        var before = await server.RowsAsync();
        var wrong = new List<string>();
        using var stranger = server.NewVisitor();
        var strangersToken = await TokenAsync(stranger, "/sign-in");
        var answeredsToken = await TokenAsync(server.ClientOfAnswered, $"/receipt/{server.Answered.Decision}");
        var opensToken = await TokenAsync(server.ClientOfOpen, $"/review/{server.Open.Invitation}/approve");
        foreach (var route in server.Routes.Where(IsByLink))
        {
            foreach (
                var (who, visitor, token, others) in new[]
                {
                    ("a stranger", stranger, strangersToken, server.Answered),
                    ("a stranger", stranger, strangersToken, server.Open),
                    ("the client of another order", server.ClientOfOpen, opensToken, server.Answered),
                    ("the client of another order", server.ClientOfAnswered, answeredsToken, server.Open),
                }
            )
            {
                var answer = await AskAsync(visitor, route, others, token);
                var never = await AskAsync(visitor, route, Things.MadeUp, token);
                if (answer.Status != HttpStatusCode.NotFound || Bare(answer) != Bare(never))
                    wrong.Add($"{route.Name} answered {who} {(int)answer.Status}, never there {(int)never.Status}");
            }
        }

        Assert.Empty(wrong);
        Assert.Equal(before, await server.RowsAsync());
        AllCarryTheHeaders();
    }

    [Fact]
    public async Task A_client_who_is_not_staff_gets_nothing_of_the_desk()
    {
        var before = await server.RowsAsync();
        var token = await TokenAsync(server.ClientOfAnswered, $"/receipt/{server.Answered.Decision}");
        var wrong = new List<string>();
        foreach (var route in server.Routes.Where(r => !r.IsOpen))
        {
            var answer = await AskAsync(server.ClientOfAnswered, route, server.Answered, token);
            if (answer is not { Status: HttpStatusCode.Redirect, Location: "/sign-in" })
                wrong.Add($"{route.Name} answered {(int)answer.Status} {answer.Location}");
        }

        Assert.Empty(wrong);
        Assert.Equal(before, await server.RowsAsync());
    }

    [Fact]
    public async Task What_is_not_there_is_404_for_staff_as_well()
    {
        var before = await server.RowsAsync();
        var token = await TokenAsync(server.Staff, "/desk");
        // Where a session is made none is seen, and a form belongs to nobody.
        var nobodys = await TokenAsync(server.Staff, "/sign-in");
        var wrong = new List<string>();
        foreach (var route in server.Routes.Where(r => r.Parameters.Any() && r.Method != ServedRoute.Any))
        {
            var answer = await AskAsync(server.Staff, route, Things.MadeUp, route.MakesSession ? nobodys : token);
            if (answer.Status != HttpStatusCode.NotFound)
                wrong.Add($"{route.Name} answered {(int)answer.Status}");
        }

        Assert.Empty(wrong);
        Assert.Equal(before, await server.RowsAsync());
        AllCarryTheHeaders();
    }

    /// <summary>Every role at every address that can be looked at; what each may send is asked by RoleTests.</summary>
    [Fact]
    public async Task Every_role_sees_what_its_rights_name_and_otherwise_what_was_never_there()
    {
        var wrong = new List<string>();
        var asked = 0;
        foreach (var role in Enum.GetValues<StaffRole>())
        {
            var (visitor, _, _) = await server.ColleagueAsync(role);
            var never = Bare(await visitor.GetAsync("/never-there"));
            foreach (var route in server.Routes.Where(r => r.Method == "GET" && !r.IsOpen && !Slow.Contains(r.Path)))
            {
                var answer = await visitor.GetAsync(route.Address(server.Answered.Value) + Things.Query(route.Path));
                asked++;
                if (route.Policies.All(p => role.Has(Enum.Parse<Right>(p))))
                {
                    if (answer.Status is not (HttpStatusCode.OK or HttpStatusCode.Redirect or HttpStatusCode.SeeOther))
                        wrong.Add($"{role} may see {route.Path} and was answered {(int)answer.Status}");
                }
                else if (answer.Status != HttpStatusCode.NotFound || Bare(answer) != never)
                {
                    wrong.Add($"{role} may not see {route.Path} and was answered {(int)answer.Status}");
                }
            }
            visitor.Dispose();
        }

        Assert.Empty(wrong);
        Assert.True(asked > 150, $"{asked} addresses asked for");
        AllCarryTheHeaders();
    }

    // Links that were used, and the step between two of a sign-in: nobody here stands there.
    private static readonly string[] OnceOnly = ["/welcome/{code}", "/join/{token}", "/sign-in/second-step"];

    // Drawn anew at each request; the same right is asked for at the addresses beside them.
    private static readonly string[] Slow =
    [
        "/presses/new/films.zip",
        "/versions/{id}/loupe.png",
        "/orders/{id}/background/{answer}.png",
        "/garments/photographs/{sha256}/trial.png",
        "/garments/{key}/{name}.png",
        // The first look begins a count that takes some seconds; until it is there the page says how far it is.
        "/orders/{id}/advice",
        "/orders/{id}/quantity",
        "/versions/{id}/art.png",
    ];

    /// <summary>Whoever may, gets it; HEAD is the same without a body; neither leaves anything behind.</summary>
    [Fact]
    public async Task Looking_and_asking_for_the_headers_are_alike_and_leave_nothing_behind()
    {
        var before = await server.RowsAsync();
        var wrong = new List<string>();
        // A session that is renewed on the way sets a cookie, and that answer is not kept: it is renewed here.
        await server.Staff.GetAsync("/desk");
        foreach (var route in server.Routes.Where(r => r.Method == "GET"))
        {
            Page? found = null;
            foreach (var (_, visitor, things) in Everyone().Where(e => route.IsOpen || e.Visitor == server.Staff))
            {
                var address = route.Address(things.Value) + Things.Query(route.Path);
                var got = await visitor.GetAsync(address);
                if (Slow.Contains(route.Path))
                {
                    found = got;
                    continue;
                }
                var head = await visitor.HeadAsync(address);
                if (head.Status != got.Status || head.Bytes.Length > 0 || !Alike(got, head))
                    wrong.Add($"HEAD {address} differs from GET: {(int)head.Status}, {(int)got.Status}");
                if (got.Status is HttpStatusCode.OK or HttpStatusCode.SeeOther || (route.Path == "/" && found is null))
                    found = got;
            }
            var expected = RouteTable.Kept.GetValueOrDefault(route.Path, "no-store");
            if (found is null && !OnceOnly.Contains(route.Path))
                wrong.Add($"{route.Name} gave nobody anything");
            else if (found is not null && Sorted(found.Headers["Cache-Control"]) != Sorted(expected))
                wrong.Add($"{route.Name} says {found.Headers["Cache-Control"]}, the table {expected}");
        }

        Assert.Empty(wrong);
        Assert.Equal(before, await server.RowsAsync());
        AllCarryTheHeaders();
    }

    [Fact]
    public async Task Methods_nobody_offers_are_405()
    {
        var before = await server.RowsAsync();
        var wrong = new List<string>();
        foreach (var path in server.Routes.Where(r => r.Method != ServedRoute.Any).GroupBy(r => r.Path))
        {
            var address = path.First().Address(server.Answered.Value) + Things.Query(path.Key);
            foreach (var method in new[] { "PUT", "DELETE", "PATCH", "OPTIONS", "PROPFIND" })
            {
                var answer = await server.Staff.SendAsync(new HttpRequestMessage(new HttpMethod(method), address));
                // An address can fit a second route too: /inks/new is also /inks/{key}.
                var offered = answer.Headers.GetValueOrDefault("Allow", "").Split(", ");
                if (
                    answer.Status != HttpStatusCode.MethodNotAllowed
                    || path.Any(r => !offered.Contains(r.Method))
                    || offered.Any(m => m is not ("GET" or "POST"))
                )
                    wrong.Add($"{method} {path.Key} answered {(int)answer.Status}, Allow {string.Join(", ", offered)}");
            }
        }

        Assert.Empty(wrong);
        Assert.Equal(before, await server.RowsAsync());
        AllCarryTheHeaders();
    }

    /// <summary>Without a key 401, whoever is signed in; with one what is not there is 404, HEAD is GET, and other methods are 405.</summary>
    [Fact]
    public async Task Programs_are_asked_for_their_key_and_nothing_else()
    {
        var wish = new KeyWish("inventory", KeyScope.Orders, "test", DateTimeOffset.UtcNow.AddDays(1));
        var made = Assert.IsType<KeyMade.Done>(await server.Service<ApiKeys>().MakeAsync(wish, "test"));
        var before = await server.RowsAsync();
        var wrong = new List<string>();
        foreach (var route in server.ForPrograms)
        {
            var address = route.Address(server.Answered.Value) + Things.Query(route.Path);
            var mine = route.Policies.All(right => KeyScope.Orders.Has(Enum.Parse<Right>(right)));
            async Task<Page> Ask(string method, string at, bool withKey)
            {
                var request = new HttpRequestMessage(new HttpMethod(method), at);
                if (withKey)
                    request.Headers.Authorization = new("Bearer", made.Secret);
                return await server.Staff.SendAsync(request);
            }
            void Hold(bool isRight, string what, Page answer)
            {
                if (!isRight)
                    wrong.Add($"{what} {address} answered {(int)answer.Status}");
                if (
                    answer.Status >= HttpStatusCode.BadRequest
                    && answer.Bytes.Length > 0
                    && answer.Headers["Content-Type"] != "application/problem+json; charset=utf-8"
                )
                    wrong.Add($"{what} {address} is answered as {answer.Headers["Content-Type"]}");
            }
            var without = await Ask(route.Method, address, withKey: false);
            Hold(without.Status == HttpStatusCode.Unauthorized, route.Method, without);
            if (route.Parameters.Any())
            {
                var nowhere = await Ask(route.Method, route.Address(Things.MadeUp.Value), withKey: true);
                Hold(nowhere.Status == HttpStatusCode.NotFound, route.Method + " of nothing", nowhere);
            }
            if (route.Method == "GET" && mine)
            {
                var (got, head) = (await Ask("GET", address, true), await Ask("HEAD", address, true));
                Hold(got.Status == HttpStatusCode.OK, "GET", got);
                Hold(head.Status == got.Status && head.Bytes.Length == 0 && Alike(got, head), "HEAD", head);
                var kept = RouteTable.Kept.GetValueOrDefault(route.Path, "no-store");
                Hold(Sorted(got.Headers["Cache-Control"]) == Sorted(kept), "what is kept of", got);
            }
            var other = await Ask("DELETE", address, withKey: true);
            Hold(other.Status == HttpStatusCode.MethodNotAllowed, "DELETE", other);
        }

        Assert.Empty(wrong);
        Assert.Equal(before, await server.RowsAsync());
        AllCarryTheHeaders();
    }

    private IEnumerable<ServedRoute> Writing() => server.Routes.Where(r => r.Writes);

    private static bool IsByLink(ServedRoute route) =>
        route.Parameters.Any(p => p is "id" or "sha256") && RouteTable.Opened.ContainsKey(route.Path);

    private IEnumerable<(string Who, Visitor Visitor, Things Things)> Everyone() =>
        [
            ("staff", server.Staff, server.Answered),
            ("the client who answered", server.ClientOfAnswered, server.Answered),
            ("the client who did not", server.ClientOfOpen, server.Open),
        ];

    private void AllCarryTheHeaders() => Assert.Empty(server.Rules.Faults.Distinct());

    private static Task<Page> AskAsync(Visitor visitor, ServedRoute route, Things things, string token)
    {
        var address = route.Address(things.Value) + Things.Query(route.Path);
        return route.Writes
            ? PostAsync(visitor, address, new() { ["__RequestVerificationToken"] = token })
            : visitor.GetAsync(address);
    }

    private static Task<Page> PostAsync(Visitor visitor, string address, Dictionary<string, string> fields) =>
        visitor.SendAsync(
            new HttpRequestMessage(HttpMethod.Post, address) { Content = new FormUrlEncodedContent(fields) }
        );

    private static async Task<string> TokenAsync(Visitor visitor, string path)
    {
        var page = await visitor.GetAsync(path);
        return page
            .Forms.Select(f => f.Hidden.GetValueOrDefault("__RequestVerificationToken"))
            .OfType<string>()
            .First();
    }

    // A page without what is new in every answer: nonce, form token, trace number.
    private static string Bare(Page page) =>
        ValueOfToken().Replace(Trace().Replace(NonceValue().Replace(page.Text, ""), ""), "");

    private static bool Alike(Page one, Page other)
    {
        string[] own =
        [
            "Date",
            "Content-Security-Policy",
            "Set-Cookie",
            "Content-Length",
            "Transfer-Encoding",
            "Connection",
        ];
        return one
            .Headers.Where(h => !own.Contains(h.Key))
            .OrderBy(h => h.Key, StringComparer.Ordinal)
            .SequenceEqual(other.Headers.Where(h => !own.Contains(h.Key)).OrderBy(h => h.Key, StringComparer.Ordinal));
    }

    private static string Sorted(string keeping) =>
        string.Join(", ", keeping.Split(", ").Order(StringComparer.Ordinal));

    private static string Root()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ProofDesk.sln")))
            folder = Path.GetDirectoryName(folder)!;
        return folder;
    }

    [GeneratedRegex("nonce=\"[^\"]*\"")]
    private static partial Regex NonceValue();

    [GeneratedRegex("name=\"__RequestVerificationToken\"[^>]*")]
    private static partial Regex ValueOfToken();

    [GeneratedRegex("<code>[^<]*</code>")]
    private static partial Regex Trace();
}

[CollectionDefinition(Name)]
public sealed class OneInventory : ICollectionFixture<InventoryServer>
{
    public const string Name = "inventory";
}
