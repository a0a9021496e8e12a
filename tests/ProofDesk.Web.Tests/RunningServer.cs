using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Web.SignIn;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Tests;

/// <summary>The whole server on a free port with a data folder of its own, small films so that a render takes a moment.</summary>
public class RunningServer : IAsyncLifetime
{
    public const string Password = "oars and four plain words";
    private readonly string folder = Path.Combine(Path.GetTempPath(), $"proofdesk-web-{Guid.NewGuid():N}");

    public WebApplication App { get; private set; } = null!;
    public Uri Address { get; private set; } = null!;
    public string OwnerLink { get; private set; } = "";

    /// <summary>The SQLite file, for a test that holds it.</summary>
    public string DatabasePath => Service<Adapters.Files.DataFolder>().Database;

    /// <summary>Further settings, as on the command line.</summary>
    protected virtual IEnumerable<string> Settings => [];

    /// <summary>Exchanges services.</summary>
    protected virtual void Replace(IServiceCollection services) { }

    public bool IsSqlite => Service<Office>().IsSqlite;

    /// <summary>Somebody new at the door.</summary>
    public virtual Visitor NewVisitor() => new(this);

    /// <summary>The server ends and another begins on the same data; only new visitors know where it is.</summary>
    public async Task RestartAsync()
    {
        await App.StopAsync();
        await App.DisposeAsync();
        await StartAsync();
    }

    private async Task StartAsync()
    {
        App = Server.Build(
            [
                "--Kestrel:Endpoints:Http:Url=http://127.0.0.1:0",
                $"--Office:DataFolder={folder}",
                "--Office:HoldMinutes=0",
                // Letters leave at once; TrackingTests look at those that wait.
                "--Office:UndoSeconds=0",
                "--Server:SampleOrder=false",
                "--Server:FilmDpi=300",
                "--Server:GarmentPixelsPerMm=0.5",
                "--Server:RequestsPerMinute=1000000",
                // Tests answer quicker than anybody reads; RobotTests look at what that does.
                "--Server:LeastLookSeconds=0",
                // One sign-in serves a whole run; AccountTests look at what ends it.
                "--Server:RecentMinutes=600",
                "--Logging:LogLevel:Default=Warning",
                .. Settings,
            ],
            Replace
        );
        await Server.PrepareAsync(App);
        await App.StartAsync();
        Address = new Uri(App.Urls.First());
    }

    public virtual async Task InitializeAsync()
    {
        await StartAsync();
        await using (var scope = App.Services.CreateAsyncScope())
            OwnerLink = (await scope.ServiceProvider.GetRequiredService<OwnerLink>().CurrentAsync())!;
        var owner = NewVisitor();
        var welcome = await owner.GetAsync(new Uri(OwnerLink).PathAndQuery);
        var desk = await owner.PostAsync(welcome, new() { ["DisplayName"] = "Ada", ["Password"] = Password });
        Assert.Equal(HttpStatusCode.Redirect, desk.Status);
        Staff = owner;
    }

    /// <summary>Somebody who is signed in.</summary>
    public Visitor Staff { get; private set; } = null!;

    public virtual async Task DisposeAsync()
    {
        await App.StopAsync();
        await App.DisposeAsync();
        Directory.Delete(folder, recursive: true);
    }

    public async Task<T> ReadAsync<T>(Func<OfficeDb, Task<T>> read)
    {
        await using var db = App.Services.GetRequiredService<Office>().Open();
        return await read(db);
    }

    public T Service<T>()
        where T : notnull => App.Services.GetRequiredService<T>();

    /// <summary>Rows that only a decision or a freeze may add.</summary>
    public Task<(int Decisions, int Slots, long Leaves, int Mails)> CountsAsync() =>
        ReadAsync(async db =>
            (
                await db.Decisions.CountAsync(),
                await db.DecisionSlots.CountAsync(),
                await db.LogLeaves.LongCountAsync(),
                await db.OutboxMails.CountAsync()
            )
        );

    /// <summary>An order for twelve white tees, uploaded through the form, rendered.</summary>
    public async Task<Guid> RenderedVersionAsync(string title, Dictionary<string, string>? more = null)
    {
        var form = await Staff.GetAsync("/orders/new");
        var fields = OrderFields(title);
        foreach (var (name, value) in more ?? [])
            fields[name] = value;
        var made = await Staff.PostAsync(form, fields, form: 1, file: ("Art", "mark.svg", SmallMark));
        Assert.Equal(HttpStatusCode.Redirect, made.Status);
        return await FinishedAsync(Guid.Parse(made.Location!.Split('/')[^1]));
    }

    /// <summary>Waits for the newest version of an order.</summary>
    public async Task<Guid> FinishedAsync(Guid orderId)
    {
        for (var tries = 0; tries < 1500; tries++)
        {
            var version = await ReadAsync(db =>
                db.ProofVersions.AsNoTracking()
                    .Where(v => v.OrderId == orderId)
                    .OrderByDescending(v => v.Number)
                    .FirstAsync()
            );
            Assert.True(version.State != VersionState.Failed, version.Error);
            if (version.ManifestSha256 is not null)
                return version.Id;
            await Task.Delay(200);
        }
        throw new TimeoutException("the render did not finish in five minutes");
    }

    /// <summary>Sends a version through the page and gives the link in the stored letter.</summary>
    public async Task<string> SentLinkAsync(Guid versionId)
    {
        var page = await Staff.GetAsync($"/versions/{versionId}/send");
        var sent = await Staff.PostAsync(
            page,
            new()
            {
                ["Recipients"] = "Kim Reed <kim@harbour-rowing.example>",
                ["Note"] = "",
                ["Act"] = "send",
            },
            form: 1
        );
        Assert.Equal(HttpStatusCode.Redirect, sent.Status);
        var mailId = await ReadAsync(db =>
            db.OutboxMails.Where(m => m.VersionId == versionId && m.Kind == "invitation").Select(m => m.Id).FirstAsync()
        );
        string? text = null;
        for (var tries = 0; tries < 100 && text is null; tries++)
        {
            text = await Service<Outbox>().TextOfAsync(mailId);
            await Task.Delay(50);
        }
        var start = text!.IndexOf("/r/", StringComparison.Ordinal);
        return text[start..text.IndexOf('\n', start)].Trim();
    }

    /// <summary>A client who has opened the link of a freshly sent version.</summary>
    public async Task<(Visitor Client, string Review, Guid Version)> InvitedClientAsync(
        string title,
        Dictionary<string, string>? more = null
    )
    {
        var version = await RenderedVersionAsync(title, more);
        var link = await SentLinkAsync(version);
        var client = NewVisitor();
        var opened = await client.GetAsync(link);
        Assert.Equal(HttpStatusCode.SeeOther, opened.Status);
        await client.GetAsync(opened.Location!);
        return (client, opened.Location!, version);
    }

    /// <summary>The last look of a client who has ticked everything.</summary>
    public static async Task<Page> LastLookAsync(Visitor client, string review, Dictionary<string, string>? more = null)
    {
        var fields = new Dictionary<string, string>(AllTicked);
        foreach (var (name, value) in more ?? [])
            fields[name] = value;
        return await client.PostAsync(await client.GetAsync(review + "/approve"), fields);
    }

    /// <summary>Text of the newest letter of a kind about a version, as soon as it is there.</summary>
    public async Task<string> LetterAsync(Guid versionId, string kind)
    {
        for (var tries = 0; tries < 200; tries++)
        {
            var mail = await ReadAsync(db =>
                db.OutboxMails.Where(m => m.VersionId == versionId && m.Kind == kind)
                    .OrderByDescending(m => m.CreatedAt)
                    .Select(m => (Guid?)m.Id)
                    .FirstOrDefaultAsync()
            );
            if (mail is { } id && await Service<Outbox>().TextOfAsync(id) is { } text)
                return text;
            await Task.Delay(50);
        }
        throw new TimeoutException($"no letter of kind {kind} in ten seconds");
    }

    /// <summary>The path of the link in a letter.</summary>
    public static string LinkIn(string text)
    {
        var start = text.IndexOf("/r/", StringComparison.Ordinal);
        return text[start..text.IndexOf('\n', start)].Trim();
    }

    public Task<Order> OrderOfAsync(Guid versionId) =>
        ReadAsync(db =>
            db.ProofVersions.AsNoTracking().Where(v => v.Id == versionId).Select(v => v.Order!).SingleAsync()
        );

    public static Dictionary<string, string> AllTicked { get; } =
        new()
        {
            ["Words"] = "true",
            ["Size"] = "true",
            ["Garments"] = "true",
            ["Colours"] = "true",
            ["Name"] = "Kim Reed",
        };

    public static Dictionary<string, string> OrderFields(string title) =>
        new()
        {
            ["Title"] = title,
            ["ClientName"] = "Harbour Rowing Club",
            ["ClientEmail"] = "kim@harbour-rowing.example",
            ["Place"] = "LeftChest",
            ["WidthMm"] = "40",
            ["FromSeamMm"] = "85",
            ["FromCentreMm"] = "105",
            ["Method"] = "plastisol",
            ["Words"] = "OAR 10",
            ["Lines[0].Ground"] = "tee/white",
            ["Lines[0].Counts[0].Size"] = "M",
            ["Lines[0].Counts[0].Count"] = "12",
        };

    public const string SmallMark = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 80 60" width="80" height="60">
          <circle cx="30" cy="30" r="26" fill="#c8332b"/>
          <rect x="50" y="10" width="28" height="40" fill="#173b7a"/>
        </svg>
        """;
}

[CollectionDefinition(Name)]
public sealed class OneServer : ICollectionFixture<RunningServer>
{
    public const string Name = "one server";
}
