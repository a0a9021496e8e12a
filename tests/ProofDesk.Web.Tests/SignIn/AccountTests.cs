using System.Net;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Web.Tests.SignIn;

/// <summary>Signing in and one's own account: conditions W8 and W9 of docs/security.md.</summary>
public sealed class AccountTests(AccountServer server) : IClassFixture<AccountServer>
{
    [Fact]
    public async Task Each_sign_in_is_a_session_of_its_own_and_one_ends_the_others()
    {
        const string Email = "sessions@lindhag.example";
        var person = await server.PersonAsync(Email);
        using var first = await server.SignedInAsync(Email);
        using var second = await server.SignedInAsync(Email);
        // The browser comes with a session and gets another.
        Assert.Equal("/desk", (await AccountServer.SignInAsync(second, Email)).Location);
        Assert.Equal(3, await server.OpenSessionsAsync(person));

        var page = await second.GetAsync("/account");
        var ended = await second.PostAsync(page, form: page.Forms.Count - 1);

        Assert.Single(page.Text.Split("this one").Skip(1));
        Assert.Contains("the server itself", page.Text);
        Assert.Equal("/account", ended.Location);
        Assert.Equal("/sign-in", (await first.GetAsync("/account")).Location);
        Assert.Equal(HttpStatusCode.OK, (await second.GetAsync("/account")).Status);
        await second.PostAsync(await second.GetAsync("/account"));
        Assert.Equal(0, await server.OpenSessionsAsync(person));
        Assert.Equal("/sign-in", (await second.GetAsync("/account")).Location);
    }

    [Fact]
    public async Task Where_everybody_needs_a_second_step_who_has_none_can_only_set_one_up()
    {
        using var owner = await NewOwnerAsync("rule@lindhag.example");
        Dictionary<string, string> rule = new() { ["SecondStepForAll"] = "true", ["RemindAfterDays"] = "0" };
        var refused = await owner.PostAsync(await owner.GetAsync("/shop"), rule, form: 1);
        await SetUpAsync(owner);
        try
        {
            var kept = await owner.PostAsync(await owner.GetAsync("/shop"), rule, form: 1);
            using var other = await NewOwnerAsync("ruled@lindhag.example");
            var led = new List<Page>();
            foreach (var path in new[] { "/desk", "/orders/new", "/people", "/shop", "/audit.csv" })
                led.Add(await other.GetAsync(path));
            var page = await other.GetAsync("/account/second-factor");
            var open = await other.GetAsync("/account/passkeys");
            await SetUpAsync(other);
            var inside = await other.GetAsync("/desk");

            Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.Status);
            Assert.Contains("You have no second step yourself yet.", refused.Text);
            Assert.Equal("/shop", kept.Location);
            Assert.All(led, p => Assert.Equal("/account/second-factor", p.Location));
            Assert.Contains("This shop asks everybody for a second step.", page.Text);
            Assert.DoesNotContain("href=\"/orders/new\"", page.Text);
            Assert.Equal(HttpStatusCode.OK, open.Status);
            Assert.Equal(HttpStatusCode.OK, inside.Status);
            Assert.Equal(HttpStatusCode.OK, (await owner.GetAsync("/desk")).Status);
        }
        finally
        {
            await server.ReadAsync(db =>
                db.Shop.ExecuteUpdateAsync(s => s.SetProperty(x => x.SecondStepForAll, false))
            );
        }
    }

    private async Task<Visitor> NewOwnerAsync(string email)
    {
        await server.PersonAsync(email);
        return await server.SignedInAsync(email);
    }

    private async Task SetUpAsync(Visitor visitor)
    {
        var page = await visitor.GetAsync("/account/second-factor");
        var done = await visitor.PostAsync(page, new() { ["Code"] = server.Code(AccountServer.KeyOf(page)) }, form: 1);
        Assert.Equal(HttpStatusCode.OK, done.Status);
    }

    [Fact]
    public async Task One_session_is_ended_from_the_list_and_nobody_ends_those_of_others()
    {
        const string Email = "one@lindhag.example";
        var person = await server.PersonAsync(Email);
        using var first = await server.SignedInAsync(Email);
        var mine = await server.ReadAsync(db =>
            db.StaffSessions.Where(s => s.UserId == person).Select(s => s.Id).SingleAsync()
        );
        using var second = await server.SignedInAsync(Email);
        var others = await server.ReadAsync(db =>
            db.StaffSessions.Where(s => s.UserId != person).Select(s => s.Id).FirstAsync()
        );
        var page = await second.GetAsync("/account");
        var form = page.Forms.FindIndex(f => f.Action == $"/account/sessions/{mine}/end");

        var foreign = await second.SendAsync(
            new HttpRequestMessage(HttpMethod.Post, $"/account/sessions/{others}/end")
            {
                Content = new FormUrlEncodedContent(page.Forms[form].Hidden),
            }
        );
        await second.PostAsync(page, form: form);

        Assert.Equal(HttpStatusCode.NotFound, foreign.Status);
        Assert.Equal("/sign-in", (await first.GetAsync("/account")).Location);
        Assert.Equal(HttpStatusCode.OK, (await second.GetAsync("/account")).Status);
    }

    [Fact]
    public async Task A_stranger_who_guesses_waits_also_after_a_restart_and_the_person_does_not()
    {
        const string Email = "guessed@lindhag.example";
        await server.PersonAsync(Email);
        using var person = await server.SignedInAsync(Email);
        await person.PostAsync(await person.GetAsync("/account"));
        using var stranger = new Visitor(server);

        var wrong = new List<Page>();
        for (var n = 0; n < 6; n++)
            wrong.Add(await AccountServer.SignInAsync(stranger, Email, "not the right password"));
        var right = await AccountServer.SignInAsync(stranger, Email);
        var nobody = new List<Page>();
        for (var n = 0; n < 6; n++)
            nobody.Add(await AccountServer.SignInAsync(stranger, "nobody@lindhag.example", "not the right password"));
        var atHome = await AccountServer.SignInAsync(person, Email);
        for (var n = 0; n < Security.MissedLinks.AllowedPerMinute; n++)
            Assert.Equal(HttpStatusCode.NotFound, (await stranger.GetAsync("/r/" + LinkToken.New())).Status);
        await server.RestartAsync();
        using var later = new Visitor(server);
        var afterRestart = await AccountServer.SignInAsync(later, Email);
        var missed = await later.GetAsync("/r/" + LinkToken.New());
        var welcome = await later.GetAsync("/welcome/x");
        server.Clock.Advance(TimeSpan.FromMinutes(1));
        var open = await AccountServer.SignInAsync(later, Email);

        Assert.Equal([422, 422, 422, 422, 422, 429], wrong.Select(page => (int)page.Status));
        Assert.Equal("60", wrong[^1].Headers["Retry-After"]);
        Assert.Contains(
            "Too many tries. The next one counts in 60 seconds; what is sent before is not looked at. A passkey works meanwhile.",
            wrong[^1].Text
        );
        Assert.Equal(429, (int)right.Status);
        Assert.Equal(wrong.Select(p => p.Status), nobody.Select(p => p.Status));
        Assert.Equal("/desk", atHome.Location);
        Assert.Equal(429, (int)afterRestart.Status);
        Assert.Equal(429, (int)missed.Status);
        Assert.InRange(
            int.Parse(missed.Headers["Retry-After"], System.Globalization.CultureInfo.InvariantCulture),
            1,
            60
        );
        Assert.Equal(429, (int)welcome.Status);
        Assert.Equal("/desk", open.Location);
    }

    [Fact]
    public async Task The_second_step_is_asked_for_and_each_code_counts_once()
    {
        const string Email = "second@lindhag.example";
        var person = await server.PersonAsync(Email);
        using var elsewhere = await server.SignedInAsync(Email);
        using var visitor = await server.SignedInAsync(Email);
        var setUp = await visitor.GetAsync("/account/second-factor");
        var key = AccountServer.KeyOf(setUp);

        var wrong = await visitor.PostAsync(setUp, new() { ["Code"] = "000000" }, form: 1);
        var first = server.Code(key);
        var on = await visitor.PostAsync(wrong, new() { ["Code"] = first }, form: 1);
        var codes = AccountServer.CodesOf(on);
        var again = await visitor.GetAsync("/account/second-factor");

        Assert.Contains("<svg", setUp.Text);
        Assert.Equal((422, 200), ((int)wrong.Status, (int)on.Status));
        Assert.Equal(key, AccountServer.KeyOf(wrong));
        Assert.Equal(10, codes.Distinct().Count());
        Assert.Contains("10 recovery codes are left", again.Text);
        Assert.DoesNotContain(codes[0], again.Text);
        Assert.Equal("/sign-in", (await elsewhere.GetAsync("/account")).Location);
        var kept = await server.ReadAsync(db =>
            db.UserTokens.Where(t => t.UserId == person).Select(t => t.Value!).ToListAsync()
        );
        Assert.DoesNotContain(kept, value => value.Contains(key) || codes.Any(value.Contains));

        using var phone = new Visitor(server);
        var step = await AccountServer.SignInAsync(phone, Email);
        Assert.Equal("/sign-in/second-step", step.Location);
        Assert.Equal("/sign-in", (await phone.GetAsync("/desk")).Location);
        var replayed = await SecondStepAsync(phone, first);
        server.Clock.Advance(TimeSpan.FromSeconds(30));
        var next = await SecondStepAsync(phone, server.Code(key));
        Assert.Equal(422, (int)replayed.Status);
        Assert.Equal("/desk", next.Location);

        using var lost = new Visitor(server);
        await AccountServer.SignInAsync(lost, Email);
        var recovered = await SecondStepAsync(lost, codes[3].ToLowerInvariant());
        using var twice = new Visitor(server);
        await AccountServer.SignInAsync(twice, Email);
        var spent = await SecondStepAsync(twice, codes[3]);
        Assert.Equal("/desk", recovered.Location);
        Assert.Equal(422, (int)spent.Status);

        server.Clock.Advance(TimeSpan.FromSeconds(30));
        var off = await phone.GetAsync("/account/second-factor");
        var withoutCode = await phone.PostAsync(
            off,
            new() { ["Password"] = RunningServer.Password, ["Code"] = "000000" },
            form: 2
        );
        var done = await phone.PostAsync(
            off,
            new() { ["Password"] = RunningServer.Password, ["Code"] = server.Code(key) },
            form: 2
        );
        Assert.Equal((422, "/account"), ((int)withoutCode.Status, done.Location));
        Assert.Equal("/desk", (await AccountServer.SignInAsync(twice, Email)).Location);
        Assert.Equal(Enumerable.Repeat(EventKind.SecondFactorSet, 3), await server.EventsAsync(person));
        Assert.Equal(
            [
                "Your account at Lindhag Screen Works: your second step was switched on",
                "Your account at Lindhag Screen Works: a recovery code was used to sign in (9 left)",
                "Your account at Lindhag Screen Works: your second step was switched off",
            ],
            await server.LettersAsync(Email)
        );
    }

    [Fact]
    public async Task Another_password_ends_the_other_sessions_and_is_told()
    {
        const string Email = "password@lindhag.example";
        const string Better = "rain on a tin boathouse roof";
        var person = await server.PersonAsync(Email);
        using var elsewhere = await server.SignedInAsync(Email);
        using var visitor = await server.SignedInAsync(Email);
        var form = await visitor.GetAsync("/account/password");

        var wrong = await visitor.PostAsync(form, Fields("not the right password", Better), form: 1);
        var weak = await visitor.PostAsync(form, Fields(RunningServer.Password, "LindhagScreenWorks1"), form: 1);
        var done = await visitor.PostAsync(form, Fields(RunningServer.Password, Better), form: 1);

        Assert.Contains("This is not the password you have now.", wrong.Text);
        Assert.Contains(
            "Without \"lindhagscreenworks\", which anybody would try, 1 letters and digits are left; at least 10 must be.",
            WebUtility.HtmlDecode(weak.Text)
        );
        Assert.Equal("/account", done.Location);
        Assert.Equal("/sign-in", (await elsewhere.GetAsync("/account")).Location);
        Assert.Equal(HttpStatusCode.OK, (await visitor.GetAsync("/account")).Status);
        Assert.Equal([EventKind.PasswordSet], await server.EventsAsync(person));
        Assert.Equal(
            ["Your account at Lindhag Screen Works: your password was changed"],
            await server.LettersAsync(Email)
        );
        Assert.Equal(422, (int)(await AccountServer.SignInAsync(elsewhere, Email)).Status);

        static Dictionary<string, string> Fields(string now, string then) =>
            new() { ["Password"] = now, ["NewPassword"] = then };
    }

    [Fact]
    public async Task After_ten_minutes_the_password_is_asked_for_once_more_and_the_session_goes_on_under_another_key()
    {
        const string Email = "again@lindhag.example";
        var person = await server.PersonAsync(Email);
        using var visitor = await server.SignedInAsync(Email);
        var early = await visitor.GetAsync("/account/second-factor");
        server.Clock.Advance(TimeSpan.FromMinutes(11));

        var late = await visitor.GetAsync("/account/second-factor");
        var page = await visitor.GetAsync(late.Location!);
        var wrong = await visitor.PostAsync(page, new() { ["Password"] = "not the right password" }, form: 1);
        var right = await visitor.PostAsync(page, new() { ["Password"] = RunningServer.Password }, form: 1);
        var there = await visitor.GetAsync(right.Location!);
        var outside = await visitor.PostAsync(
            page,
            new() { ["Password"] = RunningServer.Password, ["Then"] = "//elsewhere.example/desk" },
            form: 1
        );

        Assert.Equal(HttpStatusCode.OK, early.Status);
        Assert.Equal("/account/again?then=%2Faccount%2Fsecond-factor", late.Location);
        Assert.Equal(422, (int)wrong.Status);
        Assert.Equal("/account/second-factor", right.Location);
        Assert.Equal(HttpStatusCode.OK, there.Status);
        Assert.Equal("/account", outside.Location);
        Assert.Equal(1, await server.OpenSessionsAsync(person));
        Assert.Equal(3, await server.ReadAsync(db => db.StaffSessions.CountAsync(s => s.UserId == person)));
        Assert.Single(
            await server.ReadAsync(db =>
                db.StaffSessions.Where(s => s.UserId == person).Select(s => s.ExpiresAt).Distinct().ToListAsync()
            )
        );
    }

    [Fact]
    public async Task An_owner_who_lost_everything_begins_anew_from_the_server()
    {
        const string Email = "owner@lindhag.example";
        var person = await server.ReadAsync(db =>
            db.Users.Where(u => u.Email == Email).Select(u => u.Id).SingleAsync()
        );
        using var old = await server.SignedInAsync(Email);

        await using var scope = server.App.Services.CreateAsyncScope();
        var links = scope.ServiceProvider.GetRequiredService<Web.SignIn.OwnerLink>();
        await links.ResetAsync();
        var link = await links.CurrentAsync();
        var refused = await AccountServer.SignInAsync(old, Email);
        var welcome = await old.GetAsync(new Uri(link!).PathAndQuery);
        var inside = await old.PostAsync(
            welcome,
            new() { ["DisplayName"] = "Ada", ["Password"] = RunningServer.Password }
        );

        Assert.Equal(422, (int)refused.Status);
        Assert.Equal("/desk", inside.Location);
        Assert.Equal(1, await server.OpenSessionsAsync(person));
        Assert.Equal([EventKind.PasswordSet], await server.EventsAsync(person));
    }

    [Fact]
    public async Task Whoever_only_looks_writes_nothing()
    {
        const string Email = "looks@lindhag.example";
        await server.PersonAsync(Email);
        using var staff = await server.SignedInAsync(Email);
        using var stranger = new Visitor(server);
        await using var connection = new SqliteConnection($"Data Source={server.DatabasePath};Mode=ReadOnly");
        await connection.OpenAsync();
        // Letters of other tests are on their way.
        while (await server.ReadAsync(db => db.OutboxMails.AnyAsync(m => m.State != MailState.Sent)))
            await Task.Delay(50);
        var before = await VersionAsync();

        foreach (
            var path in new[] { "/sign-in", "/sign-in/second-step", "/r/short", "/desk", "/account/again", "/nothing" }
        )
            await stranger.GetAsync(path);
        foreach (
            var path in new[]
            {
                "/desk",
                "/account",
                "/account/password",
                "/account/second-factor",
                "/account/passkeys",
            }
        )
            Assert.Equal(HttpStatusCode.OK, (await staff.GetAsync(path)).Status);

        Assert.Equal(before, await VersionAsync());

        // Changes when another connection has committed (SQLite, PRAGMA data_version).
        async Task<long> VersionAsync()
        {
            await using var command = connection.CreateCommand();
            command.CommandText = "PRAGMA data_version";
            return (long)(await command.ExecuteScalarAsync())!;
        }
    }

    private static async Task<Page> SecondStepAsync(Visitor visitor, string code) =>
        await visitor.PostAsync(await visitor.GetAsync("/sign-in/second-step"), new() { ["Code"] = code });
}
