using Microsoft.Playwright;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>A small crest on two cloths: every method is tried on it quickly.</summary>
public sealed class AdviceServer : RunningServer
{
    public Guid Order { get; private set; }

    public override async Task InitializeAsync()
    {
        await base.InitializeAsync();
        var fields = OrderFields("Regatta shirts");
        (fields["Place"], fields["WidthMm"], fields["FromCentreMm"]) = ("Front", "40", "0");
        string[] grounds = ["tee/black", "tee/white"];
        for (var line = 0; line < grounds.Length; line++)
        {
            fields[$"Lines[{line}].Ground"] = grounds[line];
            fields[$"Lines[{line}].Counts[0].Size"] = "M";
            fields[$"Lines[{line}].Counts[0].Count"] = "12";
        }
        // A line that no mesh of the print holds for sure.
        const string Thin = "<rect x=\"10%\" y=\"49%\" width=\"80%\" height=\"0.35%\" fill=\"#e3a72f\"/></svg>";
        var crest = (
            await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "SampleArt", "rowing-crest.svg"))
        ).Replace("</svg>", Thin, StringComparison.Ordinal);
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
        browser = await playwright.LaunchChromiumAsync();
        page = await browser.NewPageAsync();
        page.SetDefaultTimeout(Browsing.PatienceMs);
        await page.SignInAsync(server.Address);
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
            "on Crew-neck tee, White, 1 piece.",
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

    [Fact]
    public async Task The_range_the_run_and_the_places_of_findings_are_stepped_through()
    {
        var version = await server.FinishedAsync(server.Order);
        var judge = new PageJudge(page, server.Address);
        await judge.OpenAsync($"/versions/{version}", "version");

        var range = page.Locator("#range");
        var large = range.Locator("[data-stage-picture]");
        await range.GetByRole(AriaRole.Slider).FocusAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        Assert.StartsWith(
            "Heavy end",
            await range.Locator("[data-stage-words]").InnerTextAsync(),
            StringComparison.Ordinal
        );
        Assert.Equal("heavy", await range.GetByRole(AriaRole.Slider).GetAttributeAsync("aria-valuetext"));
        var heavy = await large.GetAttributeAsync("src");
        await range.GetByRole(AriaRole.Link, new() { Name = "light" }).ClickAsync();
        Assert.NotEqual(heavy, await large.GetAttributeAsync("src"));

        var heads = page.Locator("#heads");
        var steps = await heads.Locator("[data-frame]").CountAsync();
        await heads.GetByRole(AriaRole.Link, new() { Name = "Previous screen" }).FocusAsync();
        await page.Keyboard.PressAsync("ArrowLeft");
        Assert.StartsWith(
            $"{steps - 1} of {steps}:",
            await heads.Locator("[data-stage-words]").InnerTextAsync(),
            StringComparison.Ordinal
        );
        Assert.Contains($"head={steps - 1}", page.Url, StringComparison.Ordinal);

        var art = page.Locator("[data-places]");
        var whole = await art.GetAttributeAsync("viewBox");
        await page.Locator(".place-link").First.FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        Assert.NotEqual(whole, await art.GetAttributeAsync("viewBox"));
        await page.GetByRole(AriaRole.Button, new() { Name = "Whole art" }).ClickAsync();
        Assert.Equal(whole, await art.GetAttributeAsync("viewBox"));

        // Without a script the same stops are links.
        await using var plain = await browser.NewContextAsync(
            new() { JavaScriptEnabled = false, StorageState = await page.Context.StorageStateAsync() }
        );
        var still = await plain.NewPageAsync();
        await still.GotoAsync(new Uri(server.Address, $"/versions/{version}").ToString());
        await still.Locator("#range").GetByRole(AriaRole.Link, new() { Name = "heavy" }).ClickAsync();
        Assert.StartsWith("Heavy end", await still.InnerTextAsync("#range figcaption"), StringComparison.Ordinal);
        await still.GetByRole(AriaRole.Link, new() { Name = "Previous screen" }).ClickAsync();
        Assert.StartsWith(
            $"{steps - 1} of {steps}:",
            await still.InnerTextAsync("#heads [data-stage-words]"),
            StringComparison.Ordinal
        );
        await still.Locator(".place-link").First.ClickAsync();
        Assert.EndsWith("#place-A", still.Url, StringComparison.Ordinal);
        Assert.True(await still.Locator("#place-A").IsVisibleAsync());
        Assert.Empty(await still.Locator("[style]").AllAsync());
        var cut = await server.Staff.GetAsync(
            new Uri(
                new Uri(server.Address, "/"),
                await still.Locator("#place-A image").GetAttributeAsync("href")
            ).PathAndQuery
        );
        Assert.Equal("image/png", cut.Headers["Content-Type"]);
    }
}
