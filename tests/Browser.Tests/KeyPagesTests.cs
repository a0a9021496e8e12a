using Microsoft.Playwright;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>Keys, what programs can ask, the rules of the shop, and the rate card with a history.</summary>
public sealed class KeyPagesTests(RunningServer server) : IClassFixture<RunningServer>
{
    [Fact]
    public async Task The_pages_of_keys_and_rules_read_well_wide_and_narrow_light_and_dark()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.LaunchChromiumAsync();
        var context = await browser.NewContextAsync(
            new()
            {
                ViewportSize = new() { Width = 1440, Height = 900 },
            }
        );
        context.SetDefaultTimeout(Browsing.PatienceMs);
        var page = await context.NewPageAsync();
        var judge = new PageJudge(page, server.Address);
        await page.SignInAsync(server.Address);

        await judge.OpenAsync("/keys", "keys-none");
        await page.FillAsync("#Name", "nightly import from the shop system");
        await page.ClickAsync("input[value=Orders]");
        await page.ClickAsync("text=Make the key");
        await judge.JudgeAsync("key-made");
        Assert.Matches("secret-token:[A-Za-z0-9_-]{47}", await page.InnerTextAsync(".secret"));
        var keys = server.Service<ApiKeys>();
        var wish = new KeyWish(
            "films for the press room",
            KeyScope.Production,
            "production",
            DateTimeOffset.UtcNow.AddDays(30)
        );
        var made = Assert.IsType<KeyMade.Done>(await keys.MakeAsync(wish, "owner@lindhag.example"));
        await judge.OpenAsync("/keys", "keys");
        await keys.EndAsync(made.Key.Id, "owner@lindhag.example");
        await judge.OpenAsync("/keys", "keys-ended");
        await judge.OpenAsync("/keys/api", "keys-api");

        await judge.OpenAsync("/shop", "shop-rules");
        await page.GotoAsync(new Uri(server.Address, "/rates").ToString());
        await page.ClickAsync("text=Keep the rate card");
        await page.FillAsync("[name='Numbers[hourRate]']", "47.5");
        await page.ClickAsync("text=Keep it as the next version");
        await judge.JudgeAsync("rates-history");
        Assert.Contains("40, now 47.5", await page.InnerTextAsync("main"));
    }
}
