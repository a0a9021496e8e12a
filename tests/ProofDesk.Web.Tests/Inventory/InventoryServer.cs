using System.Net;
using System.Reflection;
using Microsoft.AspNetCore.Mvc.ApplicationParts;
using Microsoft.AspNetCore.Routing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Sheets;

namespace ProofDesk.Web.Tests.Inventory;

/// <summary>
/// A server with two clients' orders on it, one answered and one open, every answer judged. The test-only controllers of this
/// assembly are on it too: pages that break on purpose, and one that forgets what the inventory looks for.
/// </summary>
public sealed class InventoryServer : RunningServer
{
    public AnswerRules Rules { get; } = new();

    /// <summary>Approved, with all that follows.</summary>
    public Things Answered { get; private set; } = null!;

    /// <summary>Sent to somebody else and not answered.</summary>
    public Things Open { get; private set; } = null!;

    /// <summary>Holds a link of <see cref="Answered"/>, and the link of its receipt.</summary>
    public Visitor ClientOfAnswered { get; private set; } = null!;
    public Visitor ClientOfOpen { get; private set; } = null!;

    /// <summary>What the server really has.</summary>
    public IReadOnlyList<ServedRoute> All { get; private set; } = [];

    /// <summary>What of it people ask for.</summary>
    public IReadOnlyList<ServedRoute> Routes => [.. All.Where(r => !r.IsForPrograms)];

    /// <summary>What of it programs ask for with a key.</summary>
    public IReadOnlyList<ServedRoute> ForPrograms => [.. All.Where(r => r is { IsForPrograms: true, IsOpen: false })];

    /// <summary>What the tests put there.</summary>
    public IReadOnlyList<ServedRoute> TestRoutes { get; private set; } = [];

    protected override void Replace(IServiceCollection services) =>
        services
            .AddMvcCore()
            .ConfigureApplicationPartManager(parts =>
                parts.ApplicationParts.Add(new AssemblyPart(Assembly.GetExecutingAssembly()))
            );

    public override Visitor NewVisitor() => new(this, Rules.Judge);

    public override async Task InitializeAsync()
    {
        await base.InitializeAsync();
        var all = ServedRoute.Of(Service<EndpointDataSource>());
        TestRoutes = [.. all.Where(r => r.Path.StartsWith("/test-only/", StringComparison.Ordinal))];
        All = [.. all.Except(TestRoutes)];
        await DefineAsync(
            "/inks/new",
            new()
            {
                ["L"] = "31",
                ["A"] = "10",
                ["B"] = "-44",
            }
        );
        await DefineAsync(
            "/frames/new",
            new()
            {
                ["ImageFromPalletEdgeMm"] = "80",
                ["InnerWidthMm"] = "400",
                ["InnerHeightMm"] = "500",
            }
        );
        await DefineAsync(
            "/devices/new",
            new()
            {
                ["XDpi"] = "300",
                ["YDpi"] = "300",
                ["HandOver"] = "dots",
                ["LargestWidthMm"] = "330",
            }
        );
        var blank = (await Staff.GetAsync("/presses/new/readings.json?mesh=61-64&ground=tee%2Fblack")).Text;
        await DefineAsync("/presses/new", new() { ["Sheet"] = Filled(Filled(blank, 45), 75) });
        (ClientOfAnswered, Answered) = await AnsweredAsync();
        (ClientOfOpen, Open) = await InvitedAsync("still open", "40");
    }

    public override async Task DisposeAsync()
    {
        ClientOfAnswered?.Dispose();
        ClientOfOpen?.Dispose();
        await base.DisposeAsync();
    }

    /// <summary>How many rows there are, and how often they were changed; without what only counts visits or works by itself.</summary>
    public async Task<Dictionary<string, long>> RowsAsync()
    {
        string[] beside = ["view_count", "rate_count", "staff_session", "log_checkpoint", "log_head"];
        string[] working = ["outbox_mail", "render_work", "orders"];
        var rows = new Dictionary<string, long>();
        await using var db = Service<Office>().Open();
        foreach (
            var table in db.Model.GetEntityTypes().Where(t => t.GetTableName() is { } name && !beside.Contains(name))
        )
        {
            var name = table.GetTableName()!;
            rows[name] = await NumberAsync(db, $"SELECT COUNT(*) AS \"Value\" FROM \"{name}\"");
            if (typeof(IVersioned).IsAssignableFrom(table.ClrType) && !working.Contains(name))
                rows[name + " changes"] = await NumberAsync(
                    db,
                    $"SELECT COALESCE(SUM(\"RowVersion\"), 0) AS \"Value\" FROM \"{name}\""
                );
        }
        return rows;
    }

    /// <summary>Renders wait from now on, and are not missed.</summary>
    public Task StopRendersAsync() =>
        App
            .Services.GetServices<IHostedService>()
            .Single(s => s.GetType().Name == "RenderWorker")
            .StopAsync(CancellationToken.None);

    public Task StartRendersAsync() =>
        App
            .Services.GetServices<IHostedService>()
            .Single(s => s.GetType().Name == "RenderWorker")
            .StartAsync(CancellationToken.None);

    /// <summary>Takes away versions that were asked for and never rendered.</summary>
    public async Task ForgetDraftsAsync()
    {
        await using var db = Service<Office>().Open();
        await db.RenderWork.Where(w => w.State == RenderState.Ready).ExecuteDeleteAsync();
        await db
            .ProofVersions.Where(v => v.ManifestSha256 == null && v.State != VersionState.Failed)
            .ExecuteDeleteAsync();
    }

    // The names are the model's own.
    private static Task<long> NumberAsync(OfficeDb db, string sql) => db.Database.SqlQueryRaw<long>(sql).SingleAsync();

    private async Task DefineAsync(string path, Dictionary<string, string> fields)
    {
        fields["Name"] = "Inventory";
        var made = await Staff.PostAsync(await Staff.GetAsync(path), fields, form: 1);
        Assert.True(made.Status == HttpStatusCode.Redirect, $"{path} answered {made.Status}: {made.Text}");
    }

    private static string Filled(string sheet, int growthUm)
    {
        const string blank = "\"growthUm\": null";
        var at = sheet.IndexOf(blank, StringComparison.Ordinal);
        return sheet[..at] + $"\"growthUm\": {growthUm}" + sheet[(at + blank.Length)..];
    }

    private async Task<(Visitor Client, Things Things)> InvitedAsync(string title, string widthMm)
    {
        var (client, review, version) = await InvitedClientAsync(title, new() { ["WidthMm"] = widthMm });
        var invitation = Guid.Parse(review.Split('/')[^1]);
        var things = await ReadAsync(async db => new Things
        {
            Order = await db.ProofVersions.Where(v => v.Id == version).Select(v => v.OrderId).SingleAsync(),
            Version = version,
            Invitation = invitation,
            Mail = await db.OutboxMails.Where(m => m.VersionId == version).Select(m => m.Id).FirstAsync(),
            Picture = await db
                .VersionFiles.Where(f => f.VersionId == version && f.MediaType == "image/png")
                .OrderBy(f => f.Path)
                .Select(f => f.Sha256)
                .FirstAsync(),
            Key = "inventory",
        });
        things = things with { Token = LinkIn(await LetterAsync(version, "invitation")).Split('/')[^1] };
        return (client, await ComparedAsync(client, things));
    }

    /// <summary>A sheet of the order with one cell that is made, and its link in the client's browser.</summary>
    private async Task<Things> ComparedAsync(Visitor client, Things things)
    {
        var sheet = CompareSheets.Of(things.Order, things.Picture);
        await Service<SheetBook>().AddAsync(sheet, "inventory");
        var token = (await Service<SheetLinks>().GiveAsync(sheet.Id, "the client", 14, "inventory"))!;
        var opened = await client.GetAsync($"/c/{token}");
        Assert.Equal(HttpStatusCode.SeeOther, opened.Status);
        return things with
        {
            Sheet = sheet.Id,
            Cell = sheet.Cells[0].Id,
            SheetLink = Guid.Parse(opened.Location!.Split('/')[^1]),
            SheetToken = token,
        };
    }

    private async Task<(Visitor Client, Things Things)> AnsweredAsync()
    {
        // Another width, or the pictures are the same bytes and a link of one order rightly opens the other's.
        var (client, things) = await InvitedAsync("answered", "42");
        var decided = await client.PostAsync(await LastLookAsync(client, $"/review/{things.Invitation}"));
        Assert.Equal(HttpStatusCode.SeeOther, decided.Status);
        var dispute = await client.GetAsync(LinkIn(await LetterAsync(things.Version, "receipt")));
        var production = await Staff.GetAsync($"/versions/{things.Version}/production");
        foreach (var act in new[] { "press-checks", "samples" })
        {
            var at = production.Forms.FindIndex(f => f.Action.EndsWith(act, StringComparison.Ordinal));
            var made = await Staff.PostAsync(production, [], at, ("Photo", "first.svg", SmallMark));
            Assert.True(made.Status == HttpStatusCode.Redirect, $"{act} answered {made.Status}");
        }
        var photo = await ReadAsync(db =>
            db.LoggedEvents.Where(e => e.VersionId == things.Version)
                .OrderByDescending(e => e.LeafIndex)
                .Select(e => e.Id)
                .FirstAsync()
        );
        return (
            client,
            things with
            {
                Decision = Guid.Parse(decided.Location!.Split('/')[^1]),
                Dispute = Guid.Parse(dispute.Location!.Split('/')[^1]),
                Event = photo,
            }
        );
    }
}
