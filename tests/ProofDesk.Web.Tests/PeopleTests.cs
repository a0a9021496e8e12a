using System.Net;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Web.Tests;

/// <summary>Who is let in, by whom, and how they leave again.</summary>
[Collection(OneServer.Name)]
public sealed class PeopleTests(RunningServer server)
{
    [Fact]
    public async Task An_invitation_makes_an_account_once_and_is_the_ordinary_not_found_page_ever_after()
    {
        var nothing = (await server.Staff.GetAsync("/no-such-page")).Plain();
        var (link, address) = await InvitedAsync(StaffRole.Production);
        using var newcomer = new Visitor(server);
        var before = await server.CountsAsync();

        var look = await newcomer.GetAsync(link);
        Assert.Equal("Your account", look.Title);
        await newcomer.HeadAsync(link);
        Assert.Equal(before, await server.CountsAsync());
        Assert.Equal(0, await server.ReadAsync(db => db.Users.CountAsync(u => u.Email == address)));

        var weak = await newcomer.PostAsync(look, new() { ["DisplayName"] = "Kim Lind", ["Password"] = "too short" });
        Assert.Equal(HttpStatusCode.UnprocessableEntity, weak.Status);
        Assert.Contains("Choose a password of 15 to 200 characters.", weak.Text);
        var plain = await newcomer.PostAsync(
            look,
            new() { ["DisplayName"] = "Kim Lind", ["Password"] = "aaaaaaaaaaaaaaaaaaaaaaaa" }
        );
        Assert.Equal(HttpStatusCode.UnprocessableEntity, plain.Status);

        var joined = await newcomer.PostAsync(
            look,
            new() { ["DisplayName"] = "Kim Lind", ["Password"] = RunningServer.Password }
        );
        Assert.Equal("/desk", joined.Location);
        Assert.Equal(HttpStatusCode.OK, (await newcomer.GetAsync("/desk")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await newcomer.GetAsync("/orders/new")).Status);
        using (await server.SignedInAsync(address)) { }

        using var second = new Visitor(server);
        Assert.Equal(nothing, (await second.GetAsync(link)).Plain());
        var token = (await second.GetAsync("/sign-in")).Forms[0].Hidden["__RequestVerificationToken"];
        var again = new FormUrlEncodedContent(
            new Dictionary<string, string>
            {
                ["__RequestVerificationToken"] = token,
                ["DisplayName"] = "Eve",
                ["Password"] = RunningServer.Password,
            }
        );
        Assert.Equal(
            nothing,
            (await second.SendAsync(new HttpRequestMessage(HttpMethod.Post, link) { Content = again })).Plain()
        );
        var account = await server.ReadAsync(db => db.Users.SingleAsync(u => u.Email == address));
        Assert.Equal((StaffRole.Production, "Kim Lind"), (account.Role, account.DisplayName));
        Assert.Equal(
            "by " + address + ": invited-by owner@lindhag.example, name Kim Lind, role production",
            await LoggedAsync(EventKind.ColleagueJoined, account.Id)
        );
    }

    [Fact]
    public async Task A_link_called_back_ended_or_guessed_is_the_same_page()
    {
        var nothing = (await server.Staff.GetAsync("/no-such-page")).Plain();
        var (revoked, revokedAddress) = await InvitedAsync(StaffRole.Staff);
        var invitation = await server.ReadAsync(db => db.StaffInvitations.SingleAsync(i => i.Email == revokedAddress));
        var page = await server.Staff.GetAsync("/people");
        var back = await server.Staff.PostAsync(
            page,
            form: page.Forms.FindIndex(f => f.Action == $"/people/invitations/{invitation.Id}/revocation")
        );
        Assert.Equal("/people", back.Location);
        Assert.Equal(
            "by owner@lindhag.example: name Noor",
            await LoggedAsync(EventKind.InvitationRevoked, invitation.Id)
        );
        var (ended, endedAddress) = await InvitedAsync(StaffRole.Staff);
        await server.ReadAsync(async db =>
        {
            var row = await db.StaffInvitations.SingleAsync(i => i.Email == endedAddress);
            Assert.Equal(TimeSpan.FromDays(7), row.ExpiresAt - row.CreatedAt);
            row.ExpiresAt = DateTimeOffset.UtcNow.AddSeconds(-1);
            return await db.SaveChangesAsync();
        });

        using var stranger = new Visitor(server);
        foreach (var link in new[] { revoked, ended, "/join/" + LinkToken.New(), "/join/short", ended + "x" })
            Assert.Equal(nothing, (await stranger.GetAsync(link)).Plain());
    }

    [Fact]
    public async Task The_letter_of_an_invitation_is_for_the_owner_alone()
    {
        var (link, address) = await InvitedAsync(StaffRole.Owner);
        var mail = await server.ReadAsync(db => db.OutboxMails.SingleAsync(m => m.Recipient == address));
        var (staff, _, _) = await server.ColleagueAsync(StaffRole.Staff);

        Assert.Contains(link, (await server.Staff.GetAsync($"/outbox/{mail.Id}")).Text);
        Assert.Equal(HttpStatusCode.NotFound, (await staff.GetAsync($"/outbox/{mail.Id}")).Status);
        Assert.DoesNotContain(link, (await staff.GetAsync("/outbox")).Text);
        staff.Dispose();
        Assert.Equal(
            "by owner@lindhag.example: name Noor, role owner",
            await LoggedAsync(
                EventKind.ColleagueInvited,
                await server.ReadAsync(db =>
                    db.StaffInvitations.Where(i => i.Email == address).Select(i => i.Id).SingleAsync()
                )
            )
        );
        var text = (await server.Service<Outbox>().TextOfAsync(mail.Id))!;
        Assert.StartsWith("Hello Noor,\n\nowner@lindhag.example invites you to the proof desk of ", text);
        Assert.Contains("What you can do there: everything, people and rules of the shop among it\n", text);
        Assert.DoesNotContain(
            LinkToken.DigestOf(link["/join/".Length..]),
            await server.ReadAsync(db =>
                db.StaffInvitations.Where(i => i.Email != address).Select(i => i.TokenSha256).ToListAsync()
            )
        );
    }

    [Fact]
    public async Task An_invitation_that_cannot_be_mailed_or_names_a_colleague_is_refused_with_the_reason()
    {
        var (visitor, _, address) = await server.ColleagueAsync(StaffRole.Designer);
        visitor.Dispose();

        var twice = await InviteAsync(address.ToUpperInvariant(), StaffRole.Staff);
        var nowhere = await InviteAsync("nowhere", StaffRole.Staff);
        var roleless = await InviteAsync("someone@lindhag.example", null);

        foreach (
            var (answer, says) in new[]
            {
                (twice, $"{address.ToUpperInvariant()} has an account here already: change its role instead."),
                (nowhere, "Not mailed: &quot;nowhere&quot; is not a mail address; one looks like name@example.com."),
                (roleless, "Choose a role."),
            }
        )
        {
            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
            Assert.Contains(says, answer.Text);
        }
    }

    [Fact]
    public async Task The_only_owner_can_be_neither_removed_nor_given_another_role()
    {
        var owner = await server.ReadAsync(db =>
            db.Users.SingleAsync(u => u.Role == StaffRole.Owner && u.Email == "owner@lindhag.example")
        );
        await server.ReadAsync(db =>
            db.Users.Where(u => u.Role == StaffRole.Owner && u.Id != owner.Id).ExecuteDeleteAsync()
        );
        var before = (await server.CountsAsync()).Leaves;

        foreach (var (act, fields) in new[] { ("role", "Staff"), ("removal", "") })
        {
            var answer = await ActAsync(server.Staff, owner.Id, act, fields);

            Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.Status);
            Assert.Contains(
                "Ada is the only owner and stays one: without an owner nobody could let people in any more. Make somebody else an owner first.",
                answer.Text
            );
        }
        Assert.Equal(before, (await server.CountsAsync()).Leaves);
    }

    [Fact]
    public async Task A_role_is_changed_and_a_colleague_removed_at_once_and_the_log_says_so()
    {
        var (visitor, id, address) = await server.ColleagueAsync(StaffRole.Staff);

        Assert.Equal("/people", (await ActAsync(server.Staff, id, "role", "Designer")).Location);
        Assert.Equal(HttpStatusCode.NotFound, (await visitor.GetAsync("/records")).Status);
        Assert.Equal(
            "by owner@lindhag.example: from staff, name Staff of the test, to designer",
            await LoggedAsync(EventKind.RoleChanged, id)
        );

        Assert.Equal("/people", (await ActAsync(server.Staff, id, "removal", "")).Location);
        var gone = await visitor.GetAsync("/desk");
        Assert.Equal("/sign-in", gone.Location);
        Assert.Equal(
            $"by owner@lindhag.example: account {address}, name Staff of the test, role designer",
            await LoggedAsync(EventKind.ColleagueRemoved, id)
        );
        visitor.Dispose();
    }

    [Fact]
    public async Task Two_owners_who_remove_each_other_at_once_leave_one()
    {
        var (first, firstId, _) = await server.ColleagueAsync(StaffRole.Owner);
        var (second, secondId, _) = await server.ColleagueAsync(StaffRole.Owner);
        var owner = await server.ReadAsync(db => db.Users.SingleAsync(u => u.Email == "owner@lindhag.example"));
        var roles = server.Service<StaffRoles>();
        await server.ReadAsync(db =>
            db.Users.Where(u => u.Role == StaffRole.Owner && u.Id != firstId && u.Id != secondId)
                .ExecuteUpdateAsync(set => set.SetProperty(u => u.Role, StaffRole.Staff))
        );
        try
        {
            var results = await Task.WhenAll(
                roles.RemoveAsync(firstId, role => role.ToString(), "test"),
                roles.RemoveAsync(secondId, role => role.ToString(), "test")
            );

            Assert.Equal([RoleResult.Done, RoleResult.LastOwner], results.Order());
        }
        finally
        {
            await server.ReadAsync(db =>
                db.Users.Where(u => u.Id == owner.Id)
                    .ExecuteUpdateAsync(set => set.SetProperty(u => u.Role, StaffRole.Owner))
            );
        }
        first.Dispose();
        second.Dispose();
    }

    private async Task<Page> ActAsync(Visitor visitor, Guid id, string act, string role)
    {
        var page = await visitor.GetAsync("/people");
        return await visitor.PostAsync(
            page,
            role.Length > 0 ? new() { ["role"] = role } : null,
            page.Forms.FindIndex(f => f.Action == $"/people/{id}/{act}")
        );
    }

    private async Task<Page> InviteAsync(string address, StaffRole? role)
    {
        var page = await server.Staff.GetAsync("/people");
        var fields = new Dictionary<string, string> { ["Name"] = "Noor", ["Email"] = address };
        if (role is { } chosen)
            fields["Role"] = chosen.ToString();
        return await server.Staff.PostAsync(page, fields, page.Forms.FindIndex(f => f.Action == "/people/invitations"));
    }

    private async Task<(string Link, string Address)> InvitedAsync(StaffRole role)
    {
        var address = $"noor-{Guid.NewGuid():N}@lindhag.example";
        Assert.Equal("/people", (await InviteAsync(address, role)).Location);
        var mail = await server.ReadAsync(db =>
            db.OutboxMails.Where(m => m.Recipient == address).Select(m => m.Id).SingleAsync()
        );
        for (var tries = 0; tries < 100; tries++)
        {
            if (await server.Service<Outbox>().TextOfAsync(mail) is { } text)
            {
                var start = text.IndexOf("/join/", StringComparison.Ordinal);
                return (text[start..text.IndexOf('\n', start)].Trim(), address);
            }
            await Task.Delay(50);
        }
        throw new TimeoutException("no letter in five seconds");
    }

    private async Task<string> LoggedAsync(EventKind kind, Guid subject)
    {
        var row = await server.ReadAsync(db =>
            db.LoggedEvents.SingleAsync(e => e.Kind == kind && e.SubjectId == subject)
        );
        var leaf = await server.ReadAsync(db => db.LogLeaves.SingleAsync(l => l.Index == row.LeafIndex));
        Assert.Equal(row.EventSha256, leaf.EventSha256);
        Assert.Equal(Approvals.Log.LeafType.Admin, leaf.Kind);
        var said = EventJson.Parse(row.EventBytes);
        return $"by {said.By}: {string.Join(", ", said.Facts.Select(fact => $"{fact.Key} {fact.Value}"))}";
    }
}
