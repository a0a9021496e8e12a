using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>A small crest on two cloths: every method is tried on it quickly. The sample order where pictures are taken.</summary>
public sealed class AdviceServer : RunningServer
{
    public Guid Order { get; private set; }

    protected override IEnumerable<string> Settings =>
        PagesTests.PictureFolder is null ? [] : ["--Server:SampleOrder=true", "--Server:FilmDpi=720"];

    public override async Task InitializeAsync()
    {
        await base.InitializeAsync();
        if (PagesTests.PictureFolder is not null)
        {
            Order = await ReadAsync(db => db.Orders.OrderBy(o => o.Number).Select(o => o.Id).FirstAsync());
            return;
        }
        var fields = OrderFields("Regatta shirts");
        (fields["Place"], fields["WidthMm"], fields["FromCentreMm"]) = ("Front", "36", "0");
        string[] grounds = ["tee/black", "tee/white"];
        for (var line = 0; line < grounds.Length; line++)
        {
            fields[$"Lines[{line}].Ground"] = grounds[line];
            fields[$"Lines[{line}].Counts[0].Size"] = "M";
            fields[$"Lines[{line}].Counts[0].Count"] = "12";
        }
        var crest = await File.ReadAllTextAsync(
            Path.Combine(AppContext.BaseDirectory, "SampleArt", "rowing-crest.svg")
        );
        var made = await Staff.PostAsync(
            await Staff.GetAsync("/orders/new"),
            fields,
            form: 1,
            file: ("Art", "rowing-crest.svg", crest)
        );
        Order = Guid.Parse(made.Location!.Split('/')[^1]);
    }
}

/// <summary>Pages that help choose: cost by quantity and which methods can.</summary>
public sealed class AdvicePagesTests(AdviceServer server) : IClassFixture<AdviceServer>, IAsyncLifetime
{
    private IPlaywright playwright = null!;
    private IBrowser browser = null!;
    private IPage page = null!;

    public async Task InitializeAsync()
    {
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(
            new()
            {
                ExecutablePath = Environment.GetEnvironmentVariable("CHROMIUM") ?? "/usr/bin/chromium",
                Args = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"],
            }
        );
        page = await browser.NewPageAsync();
        page.SetDefaultTimeout(180_000);
        await page.GotoAsync(new Uri(server.Address, "/sign-in").ToString());
        await page.FillAsync("#Email", "owner@lindhag.example");
        await page.FillAsync("#Password", RunningServer.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
    }

    public async Task DisposeAsync()
    {
        await browser.CloseAsync();
        playwright.Dispose();
    }

    [Fact]
    public async Task Costs_and_advice_are_reached_from_the_order_and_read_well()
    {
        var judge = new PageJudge(page, server.Address);
        await server.FinishedAsync(server.Order);
        await page.GotoAsync(new Uri(server.Address, $"/orders/{server.Order}").ToString());
        await page.GetByRole(AriaRole.Link, new() { Name = "Which methods can" }).ClickAsync();
        // A page that is still counting comes back by itself.
        await page.GetByRole(AriaRole.Heading, new() { Name = "The art" }).WaitForAsync();
        await judge.JudgeAsync("advice");
        await page.FillAsync("#pieces", "1");
        await page.SelectOptionAsync("#ground", "tee/white");
        await page.GetByRole(AriaRole.Button, new() { Name = "Ask" }).ClickAsync();
        await page.GetByRole(AriaRole.Heading, new() { Name = "The art" }).WaitForAsync();
        Assert.Contains(
            "on Classic tee, White, 1 piece.",
            await page.InnerTextAsync(".page-head"),
            StringComparison.Ordinal
        );

        await judge.OpenAsync($"/orders/{server.Order}/quantity", "quantity");
        Assert.Equal(2, await page.Locator("svg.chart").CountAsync());
        await page.FillAsync("#pieces", "250");
        await page.SelectOptionAsync("#press", "manual");
        await page.SelectOptionAsync("#sum", "direct-to-garment");
        await page.GetByRole(AriaRole.Button, new() { Name = "Draw it" }).ClickAsync();
        Assert.Contains(
            "250 pieces, Direct to garment",
            await page.InnerTextAsync("#the-sum"),
            StringComparison.Ordinal
        );
        Assert.Empty(await page.Locator("[style]").AllAsync());
    }
}
