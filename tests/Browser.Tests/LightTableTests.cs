using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>Films changed on the light table with pointer and keyboard, through a real browser.</summary>
public sealed class LightTableTests(CrestServer server) : IClassFixture<CrestServer>
{
    [Fact]
    public async Task A_wedge_a_choke_and_a_rectangle_make_the_next_version()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.LaunchChromiumAsync();
        var context = await browser.NewContextAsync(
            new()
            {
                ViewportSize = new() { Width = 1440, Height = 1000 },
                ReducedMotion = ReducedMotion.Reduce,
            }
        );
        context.SetDefaultTimeout(Browsing.PatienceMs);
        var page = await context.NewPageAsync();
        var complaints = new List<string>();
        page.Console += (_, said) =>
        {
            if (said.Type == "error")
                complaints.Add($"{page.Url}: {said.Text}");
        };
        await page.SignInAsync(server.Address);
        var first = await server.FinishedAsync(server.Order);

        await page.GotoAsync(Address($"/versions/{first}/light-table"));
        await LooksRightAsync(page);
        await page.GetByText("Change film 1 by hand").ClickAsync();
        await page.GetByText("Change film 3 by hand").ClickAsync();

        // Wedge: three presses of the arrow at 50 %, and the curve goes along.
        var middle = page.Locator("#Films_2__Wedge_5_");
        await middle.FocusAsync();
        for (var presses = 0; presses < 3; presses++)
            await page.Keyboard.PressAsync("PageDown");
        Assert.Equal("35", await middle.InputValueAsync());
        Assert.Contains("55,27.7", await page.Locator("#Films_2__Wedge .wedge-line").GetAttributeAsync("points"));
        await page.FillAsync("#Films_2__Wedge_4_", "30");
        await page.FillAsync("#Films_2__Wedge_10_", "80");
        for (var step = 6; step < 10; step++)
            await page.FillAsync(
                $"#Films_2__Wedge_{step}_",
                (35 + 9 * (step - 5)).ToString(CultureInfo.InvariantCulture)
            );
        await page.FillAsync("#Films_2__Spread", "-100");

        // Rectangle: pulled on the picture, in millimetres in the fields.
        await page.GetByRole(AriaRole.Button, new() { Name = "Draw one on the picture" }).ClickAsync();
        var table = (await page.Locator("svg.table").BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(table.X + table.Width * 0.4f, table.Y + table.Height * 0.35f);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(table.X + table.Width * 0.6f, table.Y + table.Height * 0.5f, new() { Steps = 4 });
        await page.Mouse.UpAsync();
        var sides = new List<double>();
        foreach (var side in new[] { "Left", "Top", "Width", "Height" })
            sides.Add(
                double.Parse(
                    await page.Locator($"#Films_0__KeepOut_0__{side}").InputValueAsync(),
                    CultureInfo.InvariantCulture
                )
            );
        // From 0.4 to 0.6 of the picture, which is a little wider than the print.
        Assert.True(
            sides[0] / CrestServer.WidthMm is > 0.32 and < 0.46 && sides[2] / CrestServer.WidthMm is > 0.18 and < 0.29,
            string.Join(", ", sides)
        );
        Assert.Equal(1, await page.Locator(".boxes rect").CountAsync());
        await LooksRightAsync(page);

        await page.GetByRole(AriaRole.Button, new() { Name = "Make version 2" }).ClickAsync();
        await page.GetByRole(AriaRole.Heading, new() { Name = "Changed by hand: 2 films of 4" })
            .WaitForAsync(new() { Timeout = 240_000 });
        await LooksRightAsync(page);

        var second = Guid.Parse(Regex.Match(page.Url, "[0-9a-f-]{36}").Value);
        Assert.NotEqual(first, second);
        for (var screen = 1; screen <= 4; screen++)
        {
            var (was, isNow) = (await SheetAsync(page, first, screen), await SheetAsync(page, second, screen));
            Assert.Equal(screen is 2 or 4, was.SequenceEqual(isNow));
        }
        await page.GotoAsync(Address($"/versions/{second}"));
        Assert.Equal(2, await page.Locator("#inks").GetByText("changed by hand").CountAsync());
        Assert.Contains("choke 100 um", await page.Locator("#inks").TextContentAsync());
        Assert.True(complaints.Count == 0, string.Join("\n", complaints));
    }

    [Fact]
    public async Task A_film_is_slid_aside_by_its_tab_and_looked_at_alone()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.LaunchChromiumAsync();
        var page = await browser.NewPageAsync(
            new()
            {
                ViewportSize = new() { Width = 1440, Height = 1000 },
            }
        );
        await page.SignInAsync(server.Address);
        var version = await server.ReadAsync(db =>
            db.ProofVersions.Where(v => v.OrderId == server.Order).OrderBy(v => v.Number).Select(v => v.Id).FirstAsync()
        );
        await server.FinishedAsync(server.Order);
        await page.GotoAsync(Address($"/versions/{version}/light-table"));

        var tab = (await page.Locator(".sheet[data-screen='3'] .tab").BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(tab.X + tab.Width / 2, tab.Y + tab.Height / 2);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(tab.X + 150, tab.Y, new() { Steps = 3 });
        await page.Mouse.UpAsync();
        var aside = await page.Locator(".sheet[data-screen='3']").GetAttributeAsync("transform");
        var said = await page.Locator("#table-words").TextContentAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Alone, film 2" }).ClickAsync();
        var shown = await page.EvaluateAsync<string>(
            "[...document.querySelectorAll('.sheet')].filter(s => s.getAttribute('visibility') === 'visible').map(s => s.dataset.screen).join()"
        );
        await page.GetByRole(AriaRole.Button, new() { Name = "Up to here, film 3" }).ClickAsync();
        var stack = await page.Locator("#table-words").TextContentAsync();

        Assert.Matches(@"translate\([1-9][0-9.]+ 0\)", aside);
        Assert.Contains("3. Red (slid aside)", said);
        Assert.Equal("2", shown);
        Assert.StartsWith("3 films on the light: 1. White base, 2. ", stack);
    }

    private async Task<byte[]> SheetAsync(IPage page, Guid version, int screen)
    {
        var answer = await page.Context.APIRequest.GetAsync(
            Address($"/versions/{version}/light-table/film.png?screen={screen}&lay=black")
        );
        Assert.True(answer.Ok, $"{answer.Status} for screen {screen}");
        return await answer.BodyAsync();
    }

    private static async Task LooksRightAsync(IPage page)
    {
        foreach (var width in new[] { 390, 1440 })
        {
            await page.SetViewportSizeAsync(width, 1000);
            Assert.False(
                await page.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth"),
                $"{page.Url} is wider than {width} px"
            );
            await page.AxeFindsNothingAsync($"{page.Url} at {width}");
        }
    }

    private string Address(string path) => new Uri(server.Address, path).ToString();
}
