using Microsoft.Playwright;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>What every test in a browser begins with.</summary>
internal static class Browsing
{
    /// <summary>How long a page may take, ms: a busy machine is slow, not wrong.</summary>
    public const float PatienceMs = 180_000;

    /// <summary>Debian's Chromium, or that of CHROMIUM; Playwright's own cannot be fetched everywhere.</summary>
    /// <param name="more">further switches</param>
    public static Task<IBrowser> LaunchChromiumAsync(this IPlaywright playwright, params string[] more)
    {
        Assertions.SetDefaultExpectTimeout(PatienceMs);
        return playwright.Chromium.LaunchAsync(
            new()
            {
                ExecutablePath = Environment.GetEnvironmentVariable("CHROMIUM") ?? "/usr/bin/chromium",
                Args = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", .. more],
            }
        );
    }

    /// <summary>Signs the owner in, by the form.</summary>
    public static async Task SignInAsync(this IPage page, Uri server)
    {
        await page.GotoAsync(new Uri(server, "/sign-in").ToString());
        await page.FillAsync("#Email", "owner@lindhag.example");
        await page.FillAsync("#Password", RunningServer.Password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
    }
}
