using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using OtpNet;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Events;
using ProofDesk.Web.SignIn;

namespace ProofDesk.Web.Tests.SignIn;

/// <summary>A server whose clock the test moves, with the limits as a shop has them.</summary>
public sealed class AccountServer : RunningServer
{
    public StillClock Clock { get; } = new();

    protected override IEnumerable<string> Settings => ["--Server:RecentMinutes=10"];

    protected override void Replace(IServiceCollection services) => services.AddSingleton<TimeProvider>(Clock);

    public async Task<Guid> PersonAsync(string email)
    {
        await using var scope = App.Services.CreateAsyncScope();
        var person = new StaffUser
        {
            Id = Guid.CreateVersion7(),
            UserName = email,
            Email = email,
            EmailConfirmed = true,
            DisplayName = "Kim",
        };
        var made = await scope.ServiceProvider.GetRequiredService<StaffAccounts>().CreateAsync(person, Password);
        Assert.True(made.Succeeded, string.Join("; ", made.Errors.Select(e => e.Description)));
        return person.Id;
    }

    public async Task<Visitor> SignedInAsync(string email)
    {
        var visitor = new Visitor(this);
        Assert.Equal("/desk", (await SignInAsync(visitor, email)).Location);
        return visitor;
    }

    public static async Task<Page> SignInAsync(Visitor visitor, string email, string password = Password) =>
        await visitor.PostAsync(
            await visitor.GetAsync("/sign-in"),
            new() { ["Email"] = email, ["Password"] = password }
        );

    public Task<int> OpenSessionsAsync(Guid person) =>
        ReadAsync(db => db.StaffSessions.CountAsync(s => s.UserId == person && s.EndedAt == null));

    public Task<List<EventKind>> EventsAsync(Guid person) =>
        ReadAsync(db =>
            db.LoggedEvents.Where(e => e.SubjectId == person)
                .OrderBy(e => e.LeafIndex)
                .Select(e => e.Kind)
                .ToListAsync()
        );

    public Task<List<string>> LettersAsync(string email) =>
        ReadAsync(db =>
            db.OutboxMails.Where(m => m.Kind == "account" && m.Recipient == email)
                .OrderBy(m => m.Id)
                .Select(m => m.Subject)
                .ToListAsync()
        );

    /// <summary>The code the app shows now for the key of a page.</summary>
    public string Code(string key) => new Totp(Base32Encoding.ToBytes(key)).ComputeTotp(Clock.GetUtcNow().UtcDateTime);

    public static string KeyOf(Page page) =>
        Regex.Match(page.Text, "type the key: <code>([A-Z2-7 ]+)</code>").Groups[1].Value.Replace(" ", "");

    public static List<string> CodesOf(Page page) =>
        [.. Regex.Matches(page.Text, "<li><code>([^<]+)</code>").Select(m => WebUtility.HtmlDecode(m.Groups[1].Value))];
}

/// <summary>Stands still unless it is moved; timers run as usual.</summary>
public sealed class StillClock : TimeProvider
{
    private DateTimeOffset now = new(DateTime.UtcNow.Date.AddHours(12), TimeSpan.Zero);

    public override DateTimeOffset GetUtcNow() => now;

    public void Advance(TimeSpan by) => now += by;
}
