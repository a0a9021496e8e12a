using Deque.AxeCore.Playwright;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using ProofDesk.Adapters.Database;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>A first start as a newcomer has it, with the sample order; full film resolution only when pictures are taken.</summary>
public sealed class SampleServer : RunningServer
{
    protected override IEnumerable<string> Settings =>
        ["--Server:SampleOrder=true", $"--Server:FilmDpi={(PagesTests.PictureFolder is null ? 300 : 1440)}"];
}

/// <summary>
/// Every page, wide and light, then narrow and dark: axe finds nothing and nothing hangs over the edge. With
/// PROOFDESK_PICTURES set to a folder the pages are photographed into it, light, at 1440 and 390 px.
/// </summary>
public sealed class PagesTests(SampleServer server) : IClassFixture<SampleServer>
{
    public static string? PictureFolder => Environment.GetEnvironmentVariable("PROOFDESK_PICTURES");

    [Fact]
    public async Task Every_page_reads_well_wide_and_narrow_light_and_dark()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(
            new()
            {
                ExecutablePath = Environment.GetEnvironmentVariable("CHROMIUM") ?? "/usr/bin/chromium",
                Args = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"],
            }
        );
        var context = await browser.NewContextAsync(
            new()
            {
                ViewportSize = new() { Width = 1440, Height = 900 },
            }
        );
        context.SetDefaultTimeout(60_000);
        var page = await context.NewPageAsync();

        await OpenAsync(page, "/sign-in", "sign-in");
        await page.FillAsync("#Email", "owner@lindhag.example");
        await page.FillAsync("#Password", RunningServer.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await OpenAsync(page, "/orders/new", "new-order");
        var order = await server.ReadAsync(db => db.Orders.Select(o => o.Id).FirstAsync());
        await OpenAsync(page, $"/orders/{order}/background", "background");
        var version = await server.FinishedAsync(order);
        await OpenAsync(page, $"/versions/{version}", "proof");
        await OpenAsync(page, $"/versions/{version}/light-table?film=1", "light-table");
        await OpenAsync(page, $"/versions/{version}/films", "films-refused");
        await OpenAsync(page, $"/versions/{version}/send", "send");
        var link = await server.SentLinkAsync(version);
        await OpenAsync(page, $"/orders/{order}/edit", "order-edit");
        await OpenAsync(page, $"/versions/{version}/elsewhere", "elsewhere");
        await OpenAsync(page, "/inks", "inks");
        await OpenAsync(page, "/inks/new", "ink-new");
        await OpenAsync(page, "/presses", "presses");
        await OpenAsync(page, "/presses/new", "press-new");
        await OpenAsync(page, "/devices", "devices");
        await OpenAsync(page, "/devices/new", "device-new");
        await OpenAsync(page, "/frames/new", "frame-new");
        await OpenAsync(page, "/outbox", "outbox");
        await OpenAsync(
            page,
            $"/outbox/{await server.ReadAsync(db => db.OutboxMails.Select(m => m.Id).FirstAsync())}",
            "letter"
        );
        await OpenAsync(page, "/health", "health");
        await OpenAsync(page, "/shop", "shop-rules");
        await OpenAsync(page, "/scan", "scan");
        await OpenAsync(page, "/scan?code=1/front/1/1/0000-0000", "scan-stop");
        await OpenAsync(page, "/no-such-page", "nothing-here");
        await OpenAsync(page, link[..^4], "link-incomplete");

        await OpenAsync(page, link, "client-look");
        var review = new Uri(page.Url).AbsolutePath;
        await OpenAsync(page, review + "/changes", "client-changes");
        await OpenAsync(page, review + "/approve", "client-approve");
        foreach (var box in new[] { "#Words", "#Size", "#Garments", "#Colours" })
            await page.CheckAsync(box);
        await page.FillAsync("#Name", "Kim Reed");
        await AskForCodeAsync(order, EvidenceLevel.Code);
        await page.GetByRole(AriaRole.Button, new() { Name = "Go on to the last look" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Mail me a code" }).ClickAsync();
        await JudgeAsync(page, "client-code");
        await AskForCodeAsync(order, null);
        await page.GotoAsync(new Uri(server.Address, review + "/approve").ToString());
        foreach (var box in new[] { "#Words", "#Size", "#Garments", "#Colours" })
            await page.CheckAsync(box);
        await page.FillAsync("#Name", "Kim Reed");
        await page.GetByRole(AriaRole.Button, new() { Name = "Go on to the last look" }).ClickAsync();
        await JudgeAsync(page, "client-last-look");
        await page.GetByRole(AriaRole.Button, new() { Name = "Approve version 1" }).ClickAsync();
        await JudgeAsync(page, "client-receipt");

        var decision = await server.ReadAsync(db => db.Decisions.Select(d => d.Id).FirstAsync());
        await OpenAsync(page, $"/orders/{order}", "order");
        await OpenAsync(page, $"/versions/{version}/films", "films");
        await OpenAsync(page, $"/versions/{version}/production", "production");
        await OpenAsync(page, $"/versions/{version}/reorder", "reorder");
        var receipt = RunningServer.LinkIn(await server.LetterAsync(version, "receipt"));
        await OpenAsync(page, receipt, "client-dispute");
        await page.GetByRole(AriaRole.Button, new() { Name = "This was not me" }).ClickAsync();
        await JudgeAsync(page, "client-disputed");
        await OpenAsync(page, $"/orders/{order}", "order-held");
        await OpenAsync(page, $"/records/{decision}", "record");
        await OpenAsync(page, "/records", "records");
        await OpenAsync(page, "/desk", "desk");
    }

    private Task AskForCodeAsync(Guid order, EvidenceLevel? asked) =>
        server.ReadAsync(async db =>
        {
            (await db.Orders.SingleAsync(o => o.Id == order)).EvidenceAsked = asked;
            return await db.SaveChangesAsync();
        });

    private async Task OpenAsync(IPage page, string path, string name)
    {
        await page.GotoAsync(new Uri(server.Address, path).ToString());
        await JudgeAsync(page, name);
    }

    private static async Task JudgeAsync(IPage page, string name)
    {
        foreach (var (width, scheme) in new[] { (1440, ColorScheme.Light), (390, ColorScheme.Dark) })
        {
            await page.SetViewportSizeAsync(width, 900);
            await page.EmulateMediaAsync(new() { ColorScheme = scheme });
            Assert.False(
                await page.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth"),
                $"{name} is wider than {width} px"
            );
            var result = await page.RunAxe();
            Assert.True(
                result.Violations.Length == 0,
                $"{name} at {width}, {scheme}: {string.Join("; ", result.Violations.Select(v => $"{v.Id} at {string.Join(", ", v.Nodes.Select(n => n.Html))}"))}"
            );
            if (PictureFolder is { } folder)
                await PhotographAsync(page, Path.Combine(folder, $"{name}-{width}.jpeg"));
        }
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        await page.SetViewportSizeAsync(1440, 900);
    }

    // Pictures that load late are called first, or the photograph shows holes.
    private static async Task PhotographAsync(IPage page, string path)
    {
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        await page.EvaluateAsync(
            "Promise.all([...document.images].map(i => { i.loading = 'eager'; return i.complete ? 0 : new Promise(r => i.onload = i.onerror = r); }))"
        );
        await page.ScreenshotAsync(
            new()
            {
                Path = path,
                FullPage = true,
                Type = ScreenshotType.Jpeg,
                Quality = 70,
            }
        );
    }
}
