using System.Net;
using System.Reflection;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc.Controllers;
using Microsoft.AspNetCore.Routing;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Security.Policies;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Tests;

/// <summary>Who may do what: the table of roles against every action there is.</summary>
[Collection(OneServer.Name)]
public sealed class RoleTests(RunningServer server)
{
    /// <summary>What strangers reach. Whoever adds a line says why a stranger may.</summary>
    private static readonly string[] OpenToStrangers =
    [
        "ComparedController.*", // holders of a sheet's link
        "DeskController.Home", // sends on to the desk, which asks
        "DocumentController.Show", // what programs can ask, the same for everybody
        "DisputesController.*", // holders of a receipt's link
        "LinksController.*", // mailed links
        "PassingOnController.*", // holders of a link
        "PicturesController.*", // asks for the digest's version itself
        "ProbesController.Live",
        "ProbesController.Metrics", // asks for the port or the right itself
        "ProbesController.Ready",
        "ProblemController.Show",
        "ReceiptsController.*", // holders of a link
        "ReviewsController.*", // holders of a link
        "ReviewPicturesController.*", // holders of a link
        "ComparedController.*", // holders of a link of a sheet
        "SignInController.*",
        "SecondStepController.*", // after the password
        "PasskeySignInController.*",
        "SignOutController.*",
        "VerifierController.Show", // one file for everybody
        "WelcomeController.*", // the owner's first password, by its link
        "JoiningController.*", // invited colleagues, by their link
    ];

    private static readonly StaffRole[] Roles = Enum.GetValues<StaffRole>();

    [Fact]
    public void Every_action_names_a_right_or_is_open_from_the_list()
    {
        var actions = typeof(Server)
            .Assembly.GetTypes()
            .Where(type => typeof(Microsoft.AspNetCore.Mvc.ControllerBase).IsAssignableFrom(type) && !type.IsAbstract)
            .SelectMany(type =>
                type.GetMethods(BindingFlags.Public | BindingFlags.Instance | BindingFlags.DeclaredOnly)
            )
            .Where(method => !method.IsSpecialName)
            .ToList();
        Assert.True(actions.Count > 80, $"{actions.Count} actions found");

        foreach (var action in actions)
        {
            var name = $"{action.DeclaringType!.Name}.{action.Name}";
            var all = action.GetCustomAttributes(true).Concat(action.DeclaringType.GetCustomAttributes(true)).ToList();
            if (all.OfType<IAllowAnonymous>().Any())
                Assert.True(
                    OpenToStrangers.Contains(name) || OpenToStrangers.Contains($"{action.DeclaringType.Name}.*"),
                    $"{name} is open to strangers and not on the list"
                );
            else
                Assert.True(all.OfType<NeedsAttribute>().Any(), $"{name} names no right and is not open");
        }
    }

    [Fact]
    public void What_changes_something_never_needs_a_reading_right_alone()
    {
        var open = Endpoints()
            .Where(e => e.Method != "GET" && e.Rights.Length > 0 && e.Rights.All(RoleRights.OnlyReads))
            .Select(e => e.Route)
            // Checks the packet it is given and keeps nothing.
            .Except(["/api/v1/verifications"])
            .ToList();

        Assert.Empty(open);
    }

    [Fact]
    public async Task An_action_that_forgot_its_right_answers_nobody()
    {
        var options = server.Service<Microsoft.Extensions.Options.IOptions<AuthorizationOptions>>().Value;
        var authorization = server.Service<IAuthorizationService>();
        var owner = new System.Security.Claims.ClaimsPrincipal(new System.Security.Claims.ClaimsIdentity("test"));

        Assert.False((await authorization.AuthorizeAsync(owner, null, options.FallbackPolicy!)).Succeeded);
        Assert.False((await authorization.AuthorizeAsync(owner, null, options.DefaultPolicy)).Succeeded);
    }

    [Fact]
    public async Task Every_role_can_send_what_its_rights_name_and_nothing_else()
    {
        var nothing = (await server.Staff.GetAsync("/no-such-page")).Plain();
        // Programs come with keys, which KeyTests look at.
        var writes = Endpoints()
            .Where(e =>
                e.Method == "POST" && e.Rights.Length > 0 && !e.Route.StartsWith("/api/", StringComparison.Ordinal)
            )
            .ToList();
        Assert.True(writes.Count >= 30, $"{writes.Count} actions that write");
        foreach (var role in Roles)
        {
            var (visitor, _, _) = await server.ColleagueAsync(role);
            foreach (var (route, _, rights) in writes)
            {
                var answer = await visitor.SendAsync(
                    new HttpRequestMessage(HttpMethod.Post, Somewhere(route))
                    {
                        Content = new FormUrlEncodedContent([]),
                    }
                );

                // Allowed, it goes on to the form's token, which is missing.
                var expected = rights.All(right => role.Has(right))
                    ? HttpStatusCode.BadRequest
                    : HttpStatusCode.NotFound;
                Assert.True(answer.Status == expected, $"{role}: POST {route} answered {answer.Status}");
                if (expected == HttpStatusCode.NotFound)
                    Assert.Equal(nothing, answer.Plain());
            }
            visitor.Dispose();
        }
    }

    [Fact]
    public async Task Every_role_reads_what_its_rights_name_and_nothing_else()
    {
        var (client, review, version) = await server.InvitedClientAsync("roles");
        await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        client.Dispose();
        var order = (await server.OrderOfAsync(version)).Id;
        var decision = await server.ReadAsync(db =>
            Task.FromResult(db.Decisions.Where(d => d.VersionId == version).Select(d => d.Id).Single())
        );
        var mail = await server.ReadAsync(db =>
            Task.FromResult(db.OutboxMails.Where(m => m.VersionId == version).Select(m => m.Id).First())
        );
        (string Path, StaffRole[] Allowed)[] pages =
        [
            ("/desk", Roles),
            ($"/orders/{order}", Roles),
            ($"/versions/{version}", Roles),
            ($"/versions/{version}/films", Roles),
            ($"/versions/{version}/production", Roles),
            ($"/versions/{version}/light-table", Roles),
            ("/inks", Roles),
            ("/presses", Roles),
            ("/devices", Roles),
            ("/scan", Roles),
            ("/orders/new", [StaffRole.Owner, StaffRole.Staff]),
            ($"/orders/{order}/edit", [StaffRole.Owner, StaffRole.Staff, StaffRole.Designer]),
            ($"/versions/{version}/send", [StaffRole.Owner, StaffRole.Staff]),
            ($"/versions/{version}/elsewhere", [StaffRole.Owner, StaffRole.Staff]),
            ($"/versions/{version}/reorder", [StaffRole.Owner, StaffRole.Staff]),
            ("/inks/new", [StaffRole.Owner, StaffRole.Staff]),
            ("/presses/new", [StaffRole.Owner, StaffRole.Staff]),
            ("/devices/new", [StaffRole.Owner, StaffRole.Staff]),
            ("/frames/new", [StaffRole.Owner, StaffRole.Staff]),
            ("/records", [StaffRole.Owner, StaffRole.Staff, StaffRole.Auditor]),
            ($"/records/{decision}", [StaffRole.Owner, StaffRole.Staff, StaffRole.Auditor]),
            ($"/packets/{decision}", [StaffRole.Owner, StaffRole.Staff, StaffRole.Auditor]),
            ("/outbox", [StaffRole.Owner, StaffRole.Staff, StaffRole.Auditor]),
            ($"/outbox/{mail}", [StaffRole.Owner, StaffRole.Staff]),
            ("/health", [StaffRole.Owner, StaffRole.Staff, StaffRole.Auditor]),
            ("/metrics", [StaffRole.Owner, StaffRole.Staff, StaffRole.Auditor]),
            ("/shop", [StaffRole.Owner, StaffRole.Staff, StaffRole.Auditor]),
            ("/people", [StaffRole.Owner]),
            ("/keys", [StaffRole.Owner]),
            ("/keys/api", Roles),
            ("/audit", [StaffRole.Owner, StaffRole.Auditor]),
            ("/audit.csv", [StaffRole.Owner, StaffRole.Auditor]),
        ];
        foreach (var role in Roles)
        {
            var (visitor, _, _) = await server.ColleagueAsync(role);
            foreach (var (path, allowed) in pages)
            {
                var answer = await visitor.GetAsync(path);

                var expected = allowed.Contains(role) ? HttpStatusCode.OK : HttpStatusCode.NotFound;
                Assert.True(answer.Status == expected, $"{role}: {path} answered {answer.Status}");
                if (expected != HttpStatusCode.OK || !answer.Text.Contains("<main", StringComparison.Ordinal))
                    continue;
                foreach (var link in LinksOf(answer))
                    Assert.True(
                        !pages.Any(p => p.Path == link && !p.Allowed.Contains(role)),
                        $"{role}: {path} shows the way to {link}"
                    );
                foreach (var action in FormsWithButtons(answer))
                    Assert.True(May(role, action), $"{role}: {path} shows the form of {action}");
                if (role is StaffRole.Designer or StaffRole.Production)
                    Assert.DoesNotContain("kim@harbour-rowing.example", answer.Text);
            }
            visitor.Dispose();
        }
    }

    [Fact]
    public async Task A_changed_role_counts_from_the_next_request_and_a_removed_account_is_signed_out()
    {
        var (visitor, id, _) = await server.ColleagueAsync(StaffRole.Staff);
        Assert.Equal(HttpStatusCode.OK, (await visitor.GetAsync("/orders/new")).Status);

        await server.ReadAsync(async db =>
        {
            (await db.Users.FindAsync(id))!.Role = StaffRole.Auditor;
            return await db.SaveChangesAsync();
        });
        Assert.Equal(HttpStatusCode.NotFound, (await visitor.GetAsync("/orders/new")).Status);
        Assert.Equal(HttpStatusCode.OK, (await visitor.GetAsync("/records")).Status);

        await server.ReadAsync(async db =>
        {
            db.Users.Remove((await db.Users.FindAsync(id))!);
            return await db.SaveChangesAsync();
        });
        var gone = await visitor.GetAsync("/records");
        Assert.Equal(HttpStatusCode.Redirect, gone.Status);
        Assert.Equal("/sign-in", gone.Location);
        visitor.Dispose();
    }

    private List<(string Route, string Method, Right[] Rights)> Endpoints() =>
        [
            .. server
                .Service<EndpointDataSource>()
                .Endpoints.OfType<RouteEndpoint>()
                .Where(e => e.Metadata.GetMetadata<ControllerActionDescriptor>() is not null)
                .SelectMany(e =>
                    (e.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? ["GET"]).Select(method =>
                        (
                            "/" + e.RoutePattern.RawText!.TrimStart('/'),
                            method,
                            e.Metadata.GetMetadata<IAllowAnonymous>() is not null
                                ? []
                                : e.Metadata.OfType<NeedsAttribute>().Select(needs => needs.Right).ToArray()
                        )
                    )
                ),
        ];

    private bool May(StaffRole role, string action)
    {
        var path = action.Split('?', '#')[0];
        var found = Endpoints()
            .Where(e =>
                e.Method == "POST"
                && Regex.IsMatch(path, "^" + Regex.Replace(e.Route, @"\{[^}]*\}", "[^/]+") + "$", RegexOptions.None)
            )
            .ToList();
        return found.Count > 0 && found.Exists(e => e.Rights.All(right => role.Has(right)));
    }

    private static string Somewhere(string route)
    {
        var path = Regex.Replace(route, @"\{[^}]*guid[^}]*\}", _ => Guid.NewGuid().ToString());
        return Regex.Replace(path, @"\{[^}]*\}", "x");
    }

    private static IEnumerable<string> FormsWithButtons(Page page) =>
        Regex
            .Matches(
                page.Text,
                "<form[^>]*method=\"post\"[^>]*action=\"([^\"]+)\"[^>]*>(.*?)</form>",
                RegexOptions.Singleline
            )
            // A button that names another form sends that one.
            .Where(form =>
                Regex
                    .Matches(form.Groups[2].Value, "<button[^>]*>")
                    .Any(b => !b.Value.Contains(" form=", StringComparison.Ordinal))
            )
            .Select(form => WebUtility.HtmlDecode(form.Groups[1].Value));

    private static IEnumerable<string> LinksOf(Page page) =>
        Regex.Matches(page.Text, "<a[^>]* href=\"([^\"#?]*)").Select(m => WebUtility.HtmlDecode(m.Groups[1].Value));
}
