using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>Invitations and roles on both engines; tests/ProofDesk.Web.Tests/PeopleTests looks at them through the pages.</summary>
public sealed class StaffTests
{
    [SkippableTheory, OnBothEngines]
    public async Task Of_many_who_take_up_one_link_at_once_one_has_the_account(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var token = LinkToken.New();
        await using (var db = shop.Office.Open())
        {
            db.StaffInvitations.Add(
                new StaffInvitation
                {
                    Email = "noor@lindhag.example",
                    Name = "Noor",
                    Role = StaffRole.Auditor,
                    TokenSha256 = LinkToken.DigestOf(token),
                    InvitedBy = "owner",
                    CreatedAt = TestShop.Start,
                    ExpiresAt = TestShop.Start.AddDays(7),
                }
            );
            await db.SaveChangesAsync();
        }

        var joined = await Task.WhenAll(
            Enumerable
                .Range(0, 8)
                .Select(_ => shop.Get<StaffInvitations>().JoinAsync(token, Account("noor@lindhag.example"), "auditor"))
        );

        Assert.Single(joined, has => has);
        await using var after = shop.Office.Open();
        Assert.Equal(StaffRole.Auditor, (await after.Users.SingleAsync()).Role);
        Assert.Equal(EventKind.ColleagueJoined, (await after.LoggedEvents.SingleAsync()).Kind);
    }

    [SkippableTheory, OnBothEngines]
    public async Task Owners_who_remove_each_other_at_once_leave_one(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        StaffUser[] owners = [Account("ada@lindhag.example"), Account("bo@lindhag.example")];
        await using (var db = shop.Office.Open())
        {
            db.Users.AddRange(owners);
            await db.SaveChangesAsync();
        }

        var results = await Task.WhenAll(
            owners.Select(owner => shop.Get<StaffRoles>().RemoveAsync(owner.Id, _ => "owner", "test"))
        );

        Assert.Equal([RoleResult.Done, RoleResult.LastOwner], results.Order());
        await using var after = shop.Office.Open();
        Assert.Equal(1, await after.Users.CountAsync());
        Assert.Equal(EventKind.ColleagueRemoved, (await after.LoggedEvents.SingleAsync()).Kind);
    }

    private static StaffUser Account(string address) =>
        new()
        {
            Id = Guid.CreateVersion7(),
            UserName = address,
            NormalizedUserName = address.ToUpperInvariant(),
            Email = address,
            NormalizedEmail = address.ToUpperInvariant(),
            DisplayName = "Noor",
            Role = StaffRole.Owner,
            PasswordHash = "a hash",
            SecurityStamp = "a stamp",
        };
}
