using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>A server that finds answers within three seconds too quick, as a shop's does.</summary>
public sealed class WatchfulServer : RunningServer
{
    protected override IEnumerable<string> Settings => ["--Server:LeastLookSeconds=3"];
}

/// <summary>
/// Mail scanners that run script. B3 opens, scrolls and follows; B5 fills every field, ticks every box and presses every button.
/// PROOFDESK_LONG=1 sends ten of each instead of two.
/// </summary>
public sealed class ScannerTests(WatchfulServer server) : IClassFixture<WatchfulServer>
{
    private static readonly int Rounds = Environment.GetEnvironmentVariable("PROOFDESK_LONG") is null ? 2 : 10;

    /// <summary>Without those that only show the same form again: a program that goes back and forth never answers.</summary>
    private const string Buttons = "form[method=post] button:not([tabindex='-1'], [name=Back], [lang])";

    private const string Fill = """
        () => {
          for (const field of document.querySelectorAll("input, textarea, select")) {
            if (field.type === "hidden" || field.type === "file") continue;
            if (field.type === "checkbox" || field.type === "radio") field.checked = true;
            else if (field.tagName === "SELECT") field.selectedIndex = field.options.length - 1;
            else field.value = field.inputMode === "numeric" ? "12345678" : "filled";
          }
          return document.querySelectorAll("form[method=post] button:not([tabindex='-1'], [name=Back], [lang])").length;
        }
        """;

    [Fact]
    public async Task B3_runs_the_pages_scrolls_and_follows_every_link_and_decides_nothing()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.LaunchChromiumAsync();
        var link = await server.SentLinkAsync(await server.RenderedVersionAsync("looked through"));
        var before = await server.CountsAsync();

        for (var round = 0; round < Rounds; round++)
        {
            await using var context = await browser.NewContextAsync();
            var page = await context.NewPageAsync();
            await page.GotoAsync(Address(link));
            var links = await page.EvaluateAsync<string[]>("[...document.links].map(a => a.href)");
            foreach (var one in links.Prepend(page.Url).Distinct())
            {
                await page.GotoAsync(one);
                await page.EvaluateAsync("scrollTo(0, document.body.scrollHeight)");
                await page.Mouse.MoveAsync(200, 300);
            }
        }

        Assert.Equal(before, await server.CountsAsync());
    }

    [Fact]
    public async Task B5_at_E0_is_flagged_every_time()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.LaunchChromiumAsync();
        for (var round = 0; round < Rounds; round++)
        {
            var version = await server.RenderedVersionAsync($"pressed {round}");
            await PressAllAsync(browser, await server.SentLinkAsync(version));

            var flags = await server.ReadAsync(db =>
                db.Decisions.Where(d => d.VersionId == version).Select(d => d.Flags).ToListAsync()
            );
            Assert.NotEmpty(flags);
            Assert.All(flags, flag => Assert.StartsWith("hidden-field hidden-box", flag));
            Assert.NotNull((await server.OrderOfAsync(version)).HeldSince);
        }
    }

    [Fact]
    public async Task B5_at_E1_decides_nothing()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.LaunchChromiumAsync();
        for (var round = 0; round < Rounds; round++)
        {
            var version = await server.RenderedVersionAsync($"coded {round}", new() { ["Evidence"] = "code" });
            await PressAllAsync(browser, await server.SentLinkAsync(version));

            Assert.Equal(0, await server.ReadAsync(db => db.Decisions.CountAsync(d => d.VersionId == version)));
        }
    }

    // Both answers, every button of every page that comes.
    private async Task PressAllAsync(IBrowser browser, string link)
    {
        await using var context = await browser.NewContextAsync();
        context.SetDefaultTimeout(Browsing.PatienceMs);
        var page = await context.NewPageAsync();
        await page.GotoAsync(Address(link));
        var review = new Uri(page.Url).AbsolutePath;
        foreach (var path in new[] { "/approve", "/changes" })
        {
            await page.GotoAsync(Address(review + path));
            for (var step = 0; step < 5; step++)
            {
                var buttons = await page.EvaluateAsync<int>(Fill);
                if (buttons == 0)
                    break;
                // Where there are several, one after the other: the code is asked for and guessed as well.
                await page.Locator(Buttons).Nth(step % buttons).ClickAsync();
                await page.WaitForLoadStateAsync(LoadState.Load);
                if (page.Url.Contains("/receipt/", StringComparison.Ordinal))
                    break;
            }
        }
    }

    private string Address(string path) => new Uri(server.Address, path).ToString();
}
