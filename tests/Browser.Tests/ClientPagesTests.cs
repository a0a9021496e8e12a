using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ProofDesk.Judges;

namespace Browser.Tests;

/// <summary>The client's pages: judged in both languages, in long words, and used by keyboard alone with and without script.</summary>
public sealed class ClientPagesTests(ClientServer server) : IClassFixture<ClientServer>, IAsyncLifetime
{
    private static readonly string[] Views = ["garment", "print", "films", "art", "sizes"];

    private readonly List<string> complaints = [];
    private IPlaywright playwright = null!;
    private IBrowser browser = null!;

    public async Task InitializeAsync()
    {
        playwright = await Playwright.CreateAsync();
        browser = await playwright.LaunchChromiumAsync();
    }

    public async Task DisposeAsync()
    {
        await browser.CloseAsync();
        playwright.Dispose();
    }

    [Fact]
    public async Task Every_page_of_the_client_reads_well_wide_and_narrow_light_and_dark()
    {
        var page = await PageAsync(1440, script: true);
        var judge = new PageJudge(page, server.Address);
        var review = await OpenAsync(page, 0);

        await judge.JudgeAsync("client-look");
        foreach (var view in Views)
            await judge.OpenAsync($"{review}?view={view}", $"client-{view}");
        await judge.OpenAsync($"{review}?view=print&end=heavy&x=20&y=10", "client-heavy");
        await judge.OpenAsync($"{review}?view=print&x=20&y=10", "client-loupe");
        await judge.OpenAsync($"{review}/changes?thing=word%3A%20HARBOUR", "client-changes");
        await judge.OpenAsync($"{review}/approve", "client-approve");
        await page.ClickAsync(".acts button[type=submit]");
        await judge.JudgeAsync("client-approve-refused");
        await judge.OpenAsync($"{review}?lang=es", "client-look-spanish");
        await judge.OpenAsync($"{review}/approve", "client-approve-spanish");
        Assert.True(complaints.Count == 0, string.Join('\n', complaints));
    }

    /// <summary>400 % zoom of 1280 px is 320 px (WCAG 2.2, 1.4.10).</summary>
    [Theory]
    [InlineData("en")]
    [InlineData("es")]
    [InlineData("qps-ploc")]
    public async Task Nothing_hangs_over_the_edge_at_320_px(string language)
    {
        var page = await PageAsync(320, script: false);
        var review = await OpenAsync(page, 0);

        foreach (
            var path in (string[])
                [
                    $"?lang={language}",
                    .. Views.Select(v => $"?view={v}"),
                    "/approve",
                    "/changes?thing=order",
                    "/reminders",
                ]
        )
        {
            await page.GotoAsync(Address(review + path));
            Assert.False(
                await page.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth"),
                $"{path} in {language}: {await WidestAsync(page)}"
            );
        }
        Assert.Equal(language, await page.Locator("html").GetAttributeAsync("lang"));
    }

    /// <summary>Words that are not in the files of texts stay plain English where every other word carries marks.</summary>
    [Fact]
    public async Task In_the_pseudo_language_headings_labels_and_buttons_carry_marks()
    {
        var page = await PageAsync(390, script: false);
        var review = await OpenAsync(page, 0);
        await page.GotoAsync(Address(review + "?lang=qps-ploc"));

        foreach (var path in new[] { "", "?view=print", "/approve", "/changes" })
        {
            await page.GotoAsync(Address(review + path));
            var plain = await page.EvaluateAsync<string[]>(
                "[...document.querySelectorAll('h2, legend, label, dt, th, button, .button, .hint')].filter(e => !e.closest('[aria-hidden=true], .languages, [translate=no]') && !e.querySelector('[translate=no]')).map(e => e.textContent.trim()).filter(t => /[a-z]{3}/i.test(t) && !t.includes('['))"
            );
            Assert.Empty(plain);
        }
    }

    /// <summary>Two of the twelve ways, unless long counts are asked for; each answers an order of its own.</summary>
    public static TheoryData<int, bool, int, ColorScheme> ByKeyboard()
    {
        var ways = new TheoryData<int, bool, int, ColorScheme>();
        var order = 1;
        foreach (var (script, width, scheme) in Ways.Of((true, 390, ColorScheme.Dark), (false, 320, ColorScheme.Light)))
            ways.Add(order++, script, width, scheme);
        return ways;
    }

    [Theory]
    [MemberData(nameof(ByKeyboard))]
    public async Task Two_prints_three_garments_and_a_roster_are_approved_by_keyboard_alone(
        int order,
        bool script,
        int width,
        ColorScheme scheme
    )
    {
        var page = await PageAsync(width, script);
        await page.EmulateMediaAsync(new() { ColorScheme = scheme });
        await OpenAsync(page, order);
        await LooksRightAsync(page, script);

        await FollowAsync(page, "a[href$='/approve']", "**/approve");
        await LooksRightAsync(page, script);
        foreach (
            var box in (string[])
                [
                    "#Words",
                    .. Enumerable.Range(0, ClientServer.RosterLines).Select(i => $"#Roster-{i}"),
                    "#Size",
                    "#Garments",
                    "#Colours",
                ]
        )
        {
            await FocusAsync(page, box);
            await page.Keyboard.PressAsync("Space");
        }
        await FocusAsync(page, "#Name");
        await page.Keyboard.TypeAsync("Kim Reed");
        await FocusAsync(page, ".acts button[type=submit]");
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("h1", new() { HasText = "A last look" }).WaitForAsync();
        await LooksRightAsync(page, script);

        // Back and on again: no tick is lost.
        await FocusAsync(page, "button[name=Back]");
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("#Name").WaitForAsync();
        Assert.Equal(4 + ClientServer.RosterLines, await page.Locator("input[type=checkbox]:checked").CountAsync());
        await FocusAsync(page, ".acts button[type=submit]");
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("button[name=Back]").WaitForAsync();
        await FocusAsync(page, ".acts button[type=submit]:not([name])");
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("h1", new() { HasText = "Approved. Thank you." }).WaitForAsync();
        await LooksRightAsync(page, script);
        Assert.Equal("en", await server.LocaleOfDecisionAsync(Guid.Parse(page.Url.Split('/')[^1])));
        Assert.True(complaints.Count == 0, string.Join('\n', complaints));
    }

    [Fact]
    public async Task A_picture_is_moved_by_keys_shown_in_true_size_and_looked_at_through_the_loupe()
    {
        var page = await PageAsync(390, script: true);
        var review = await OpenAsync(page, 0);
        await page.GotoAsync(Address($"{review}?view=print"));
        await page.Locator("#zoom canvas").First.WaitForAsync();
        Assert.Equal("Not to scale.", await page.TextContentAsync("#scale"));
        Assert.True(await page.IsDisabledAsync("[data-zoom=true]"));

        await page.ClickAsync("#true-size summary");
        await page.FocusAsync("#card-width");
        await page.Keyboard.PressAsync("ArrowRight");
        Assert.Equal("204.5", await page.InputValueAsync("#card-width"));
        var card = (await page.Locator("#card").BoundingBoxAsync())!;
        Assert.Equal(85.6 / 53.98, card.Height / card.Width, 0.01);
        await page.ClickAsync("#card-fits");
        await page.ClickAsync("[data-zoom=true]");
        await Assertions
            .Expect(page.Locator("#scale"))
            .ToHaveTextAsync(new Regex("On this screen 10 mm shows (10|9\\.9|10\\.1) mm of cloth\\."));
        await page.ReloadAsync();
        await page.Locator("#zoom canvas").First.WaitForAsync();
        Assert.False(await page.IsDisabledAsync("[data-zoom=true]"));

        // A press that lasts on a busy machine is none: the picture takes it for the beginning of a drag.
        await page.Locator("#zoom").ScrollIntoViewIfNeededAsync();
        for (var tries = 0; tries < 100 && await SeenAsync(page) == 0; tries++)
        {
            if (tries % 20 == 0)
            {
                var box = (await page.Locator("#zoom").BoundingBoxAsync())!;
                await page.Mouse.ClickAsync(box.X + box.Width / 2, box.Y + box.Height / 2);
            }
            await Task.Delay(200);
        }
        Assert.True(await SeenAsync(page) > 0, "the loupe shows nothing");
        Assert.InRange(
            double.Parse(await page.InputValueAsync("#x"), System.Globalization.CultureInfo.InvariantCulture),
            20,
            30
        );
        Assert.True(complaints.Count == 0, string.Join('\n', complaints));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_spot_of_a_print_is_pointed_at_and_several_comments_go_in_one_answer(bool script)
    {
        var page = await PageAsync(390, script);
        var review = await OpenAsync(page, 0);
        await page.GotoAsync(Address($"{review}/changes?thing=ink%3A%20White"));
        await page.ClickAsync("details:has-text('“HARBOUR”') summary");
        await page.FillAsync("details:has-text('“HARBOUR”') textarea", "it should read HARBOR");
        await page.ClickAsync(".spot >> nth=0 >> summary");
        var picture = page.Locator(".spot input[type=image]").First;
        await picture.ScrollIntoViewIfNeededAsync();
        var box = (await picture.BoundingBoxAsync())!;
        Assert.Equal(272, box.Width);
        await picture.ClickAsync(
            new()
            {
                Position = new() { X = box.Width / 2, Y = box.Height / 2 },
            }
        );
        await page.Locator("#Spots_0__Right").WaitForAsync();
        if (script)
        {
            await picture.FocusAsync();
            await page.Keyboard.PressAsync("Shift+ArrowLeft");
            await page.Keyboard.PressAsync("ArrowDown");
        }
        var right = await page.InputValueAsync("#Spots_0__Right");
        Assert.Matches(script ? "^-(9\\.[5-9]|10(\\.[0-5])?)$" : "^-?0(\\.[0-5])?$", right);
        await page.FillAsync("#Spots_0__Words", "a hole here");
        await page.FillAsync("#Name", "Kim Reed");
        await page.ClickAsync(".acts button[type=submit]");

        await page.Locator("h1", new() { HasText = "A last look" }).WaitForAsync();
        var said = await page.Locator(".counterfoil").TextContentAsync();
        Assert.Contains("word: HARBOUR", said);
        Assert.Contains("it should read HARBOR", said);
        Assert.Matches("spot: left chest, .* the centre line( as pictured)?, [0-9.]+ mm below the top", said);
        Assert.Contains("a hole here", said);
        await LooksRightAsync(page, script);
    }

    private static Task<int> SeenAsync(IPage page) =>
        page.Locator("#loupe-seen").EvaluateAsync<int>("picture => picture.naturalWidth");

    private async Task<IPage> PageAsync(int width, bool script)
    {
        var context = await browser.NewContextAsync(
            new()
            {
                ViewportSize = new() { Width = width, Height = 844 },
                JavaScriptEnabled = script,
                Locale = "en-GB",
            }
        );
        context.SetDefaultTimeout(Browsing.PatienceMs);
        var page = await context.NewPageAsync();
        page.Console += (_, said) =>
        {
            if (said.Type == "error" && !said.Text.Contains("422", StringComparison.Ordinal))
                complaints.Add($"{page.Url}: {said.Text}");
        };
        return page;
    }

    private async Task<string> OpenAsync(IPage page, int order)
    {
        await page.GotoAsync(Address(server.Links[order]));
        return new Uri(page.Url).AbsolutePath;
    }

    /// <summary>Tab until an element has the focus: it can be reached, and the focus can be seen.</summary>
    private static async Task FocusAsync(IPage page, string selector)
    {
        for (var tabs = 0; tabs < 300; tabs++)
        {
            await page.Keyboard.PressAsync("Tab");
            if (await page.Locator(selector).First.EvaluateAsync<bool>("e => e === document.activeElement"))
            {
                Assert.NotEqual(
                    "none",
                    await page.Locator(selector).First.EvaluateAsync<string>("e => getComputedStyle(e).outlineStyle")
                );
                return;
            }
        }
        Assert.Fail($"{selector} is not reached by 300 tabs on {page.Url}");
    }

    // A browser that was just started on a busy machine has lost a key once; whoever sits before it presses again.
    private static async Task FollowAsync(IPage page, string link, string address)
    {
        var asked = new List<string>();
        page.Request += (_, request) => asked.Add(request.Url);
        page.RequestFinished += (_, request) => asked.Remove(request.Url);
        page.RequestFailed += (_, request) => asked.Remove(request.Url);
        for (var press = 1; ; press++)
        {
            await FocusAsync(page, link);
            await page.Keyboard.PressAsync("Enter");
            try
            {
                await page.WaitForURLAsync(address, new() { Timeout = Browsing.PatienceMs / 3 });
                return;
            }
            catch (TimeoutException) when (press == 1) { }
            catch (TimeoutException)
            {
                var active = await page.EvaluateAsync<string>("document.activeElement.outerHTML.slice(0, 200)");
                Assert.Fail(
                    $"{link} was not followed from {page.Url}; the focus is on {active}; waits for {string.Join(", ", asked)}"
                );
            }
        }
    }

    // The judge is script itself: where there is none, the same page was judged with it.
    private static async Task LooksRightAsync(IPage page, bool script)
    {
        if (script)
        {
            await page.AxeFindsNothingAsync(page.Url);
        }
        Assert.False(
            await page.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth"),
            $"{page.Url}: {await WidestAsync(page)}"
        );
    }

    private static Task<string> WidestAsync(IPage page) =>
        page.EvaluateAsync<string>(
            "[...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest('.wide, .aside')).slice(0, 4).map(e => e.tagName + '.' + e.className + ' ' + Math.round(e.getBoundingClientRect().right) + ' ' + e.textContent.trim().slice(0, 40)).join('; ')"
        );

    private string Address(string path) => new Uri(server.Address, path).ToString();
}
