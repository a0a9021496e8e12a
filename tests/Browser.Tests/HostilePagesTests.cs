using Microsoft.Playwright;
using ProofDesk.HostileText;
using ProofDesk.Web.Tests.Inventory;
using Xunit.Abstractions;

namespace Browser.Tests;

/// <summary>
/// The pages that came of hostile text, shown to a browser with the headers they were sent with: no script runs, no dialog opens, no
/// violation of the policy is reported. PROOFDESK_LONG=1 shows all that were kept.
/// </summary>
public sealed class HostilePagesTests(InventoryServer server, ITestOutputHelper output) : IClassFixture<InventoryServer>
{
    private static readonly bool IsLong = Environment.GetEnvironmentVariable("PROOFDESK_LONG") == "1";
    private const int MostPages = 40;

    // pdx is what hostile text calls; what it rings, and what the policy stops, is written down.
    private const string Bell = """
        window.heard = [];
        window.pdx = n => window.heard.push("ran " + n);
        document.addEventListener("securitypolicyviolation", e => window.heard.push("stopped " + e.violatedDirective + " " + e.sample));
        """;

    private readonly List<string> dialogs = [];

    [Fact]
    public async Task No_text_runs_in_a_browser()
    {
        var run = new HostileRun(server, IsLong ? HostileStrings.All : HostileStrings.Sample(66));
        await server.StopRendersAsync();
        var at = 0;
        foreach (var (path, who, form) in await run.FormsAsync())
        {
            await run.TypeAsync(path, who, form, at, IsLong ? HostileStrings.Count : 2, again: 0, keep: true);
            at += 2;
        }
        var step = IsLong ? 1 : Math.Max(1, run.Answers.Count / MostPages);
        var shown = run.Answers.Where((_, i) => i % step == 0).ToList();
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.LaunchChromiumAsync();
        var page = await PageAsync(browser);
        var now = shown[0];
        await page.RouteAsync(
            "**/kept",
            route =>
                route.FulfillAsync(
                    new()
                    {
                        Status = 200,
                        ContentType = "text/html; charset=utf-8",
                        BodyBytes = now.Page.Bytes,
                        Headers = new Dictionary<string, string>
                        {
                            ["Content-Security-Policy"] = now.Page.Headers["Content-Security-Policy"],
                            ["X-Content-Type-Options"] = "nosniff",
                        },
                    }
                )
        );

        var faults = new List<string>();
        foreach (var kept in shown)
        {
            now = kept;
            await page.GotoAsync(new Uri(server.Address, "/kept").ToString());
            faults.AddRange((await HeardAsync(page)).Select(heard => $"{kept.Form}: {heard}"));
        }
        output.WriteLine($"{run.Figures}; {shown.Count} pages shown, {faults.Count} heard");

        Assert.Empty(faults.Distinct());
        Assert.Empty(dialogs);
        Assert.True(shown.Count >= 25, $"{shown.Count} pages");
    }

    [Fact]
    public async Task What_runs_or_would_run_is_heard()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.LaunchChromiumAsync();
        var page = await PageAsync(browser);
        var echo = "?what=" + Uri.EscapeDataString("<img src=x onerror=\"pdx(7);alert(8)\">");

        await page.GotoAsync(new Uri(server.Address, "/test-only/echo" + echo).ToString());
        var stopped = await HeardAsync(page);
        await page.GotoAsync(new Uri(server.Address, "/test-only/unguarded-echo" + echo).ToString());
        var ran = await HeardAsync(page);

        Assert.Contains(stopped, heard => heard.StartsWith("stopped script-src-attr", StringComparison.Ordinal));
        Assert.Equal(["ran 7"], ran);
        Assert.Equal(["8"], dialogs);
    }

    private async Task<IPage> PageAsync(IBrowser browser)
    {
        var page = await browser.NewPageAsync();
        page.Dialog += async (_, dialog) =>
        {
            dialogs.Add(dialog.Message);
            await dialog.DismissAsync();
        };
        await page.AddInitScriptAsync(Bell);
        return page;
    }

    // What waits for the next turn of the event loop is heard as well.
    private static Task<string[]> HeardAsync(IPage page) =>
        page.EvaluateAsync<string[]>("new Promise(done => setTimeout(() => done(window.heard), 20))");
}
