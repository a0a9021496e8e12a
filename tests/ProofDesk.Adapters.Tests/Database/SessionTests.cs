using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>Sessions as rows (condition W9).</summary>
public sealed class SessionTests
{
    [SkippableTheory]
    [OnBothEngines]
    public async Task The_row_holds_no_key_that_opens_it(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var key = await OpenAsync(shop, await PersonAsync(shop));

        await using var db = shop.Office.Open();
        var row = await db.StaffSessions.SingleAsync();

        Assert.Equal(43, key.Length);
        Assert.Equal(SHA256.HashData(Encoding.UTF8.GetBytes(key)), row.KeySha256);
        Assert.Null(await shop.Get<Sessions>().FindAsync(Convert.ToHexStringLower(row.KeySha256)));
        Assert.Equal("ticket"u8.ToArray(), (await shop.Get<Sessions>().FindAsync(key))!.Ticket);
    }

    [SkippableTheory]
    [OnBothEngines]
    public async Task It_ends_after_twelve_hours_and_after_an_hour_unused(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var person = await PersonAsync(shop);
        var (used, idle) = (await OpenAsync(shop, person), await OpenAsync(shop, person));

        for (var halfHours = 1; halfHours < 24; halfHours++)
        {
            shop.Time.Advance(TimeSpan.FromMinutes(30));
            Assert.NotNull(await shop.Get<Sessions>().FindAsync(used));
            await shop.Get<Sessions>().WriteSeenAsync();
        }
        shop.Time.Advance(TimeSpan.FromMinutes(30));

        Assert.Null(await shop.Get<Sessions>().FindAsync(used));
        Assert.Null(await shop.Get<Sessions>().FindAsync(idle));
    }

    [SkippableTheory]
    [OnBothEngines]
    public async Task When_it_was_last_used_is_written_at_most_once_a_minute(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var sessions = shop.Get<Sessions>();
        var key = await OpenAsync(shop, await PersonAsync(shop));

        shop.Time.Advance(TimeSpan.FromSeconds(59));
        await sessions.FindAsync(key);
        await sessions.WriteSeenAsync();
        var early = await SeenAsync(shop);
        shop.Time.Advance(TimeSpan.FromSeconds(1));
        await sessions.FindAsync(key);
        var beforeWriting = await SeenAsync(shop);
        await sessions.WriteSeenAsync();

        Assert.Equal(TestShop.Start, early);
        Assert.Equal(TestShop.Start, beforeWriting);
        Assert.Equal(TestShop.Start.AddMinutes(1), await SeenAsync(shop));
    }

    [SkippableTheory]
    [OnBothEngines]
    public async Task All_sessions_of_a_person_end_but_the_one_that_is_spared(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var sessions = shop.Get<Sessions>();
        var (kim, ada) = (await PersonAsync(shop, "kim@lindhag.example"), await PersonAsync(shop));
        var mine = await OpenAsync(shop, kim);
        var other = await OpenAsync(shop, kim);
        var hers = await OpenAsync(shop, ada);

        var ended = await sessions.EndAllAsync(kim, (await sessions.FindAsync(mine))!.Id, "ada@lindhag.example");

        Assert.Equal(1, ended);
        Assert.NotNull(await sessions.FindAsync(mine));
        Assert.Null(await sessions.FindAsync(other));
        Assert.NotNull(await sessions.FindAsync(hers));
        await using var db = shop.Office.Open();
        var said = await db.AuditEvents.SingleAsync(row => row.Action == "sessions ended");
        Assert.Equal(("ada@lindhag.example", "1 of kim@lindhag.example"), (said.Actor, said.Detail));
    }

    [SkippableTheory]
    [OnBothEngines]
    public async Task Whoever_is_locked_out_has_no_session_and_ended_rows_go_after_a_month(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var sessions = shop.Get<Sessions>();
        var person = await PersonAsync(shop);
        var key = await OpenAsync(shop, person);

        await shop.Office.WriteAsync(async db =>
        {
            var row = await db.Users.SingleAsync(user => user.Id == person);
            (row.LockoutEnabled, row.LockoutEnd) = (true, DateTimeOffset.MaxValue);
            await db.SaveChangesAsync();
        });
        var found = await sessions.FindAsync(key);
        shop.Time.Advance(TimeSpan.FromDays(31));
        await sessions.WriteSeenAsync();

        Assert.Null(found);
        await using var reading = shop.Office.Open();
        Assert.Empty(await reading.StaffSessions.ToListAsync());
    }

    private static Task<string> OpenAsync(TestShop shop, Guid person) =>
        shop.Get<Sessions>().OpenAsync(person, "ticket"u8.ToArray(), "192.0.2.*", "Firefox on Linux");

    private static async Task<DateTimeOffset> SeenAsync(TestShop shop)
    {
        await using var db = shop.Office.Open();
        return (await db.StaffSessions.AsNoTracking().SingleAsync()).LastSeenAt;
    }

    private static Task<Guid> PersonAsync(TestShop shop, string email = "ada@lindhag.example") =>
        shop.Office.WriteAsync(async db =>
        {
            var person = new StaffUser
            {
                Id = Guid.CreateVersion7(),
                UserName = email,
                Email = email,
                SecurityStamp = "one",
            };
            db.Users.Add(person);
            await db.SaveChangesAsync();
            return person.Id;
        });
}
