using Microsoft.Playwright;

namespace Browser.Tests;

/// <summary>A designer chooses: which methods can, what a shirt costs, how it may come out, one sheet of proofs, what others like best.</summary>
public sealed class DesignerStoryTests(AdviceServer server) : IClassFixture<AdviceServer>, IAsyncLifetime
{
    private IPlaywright playwright = null!;
    private IBrowser browser = null!;

    public static TheoryData<bool, int, ColorScheme> Story()
    {
        var story = new TheoryData<bool, int, ColorScheme>();
        foreach (var (script, width, scheme) in Ways.Of((true, 390, ColorScheme.Dark)))
            story.Add(script, width, scheme);
        return story;
    }

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

    [Theory]
    [MemberData(nameof(Story))]
    public async Task A_designer_chooses_a_method_and_asks_others_what_they_like(
        bool script,
        int width,
        ColorScheme scheme
    )
    {
        var version = await server.FinishedAsync(server.Order);
        var page = await browser.PageAsync(script, width, scheme);
        await page.SignInAsync(server.Address);

        await page.GotoAsync(Address($"/orders/{server.Order}"));
        await page.GetByRole(AriaRole.Link, new() { Name = "Which methods can" }).ClickAsync();
        // A page that is still counting comes back by itself, without script too.
        await page.GetByRole(AriaRole.Heading, new() { Name = "The art" }).WaitForAsync();
        await page.LooksRightAsync(script);

        await page.GotoAsync(Address($"/orders/{server.Order}"));
        await page.GetByRole(AriaRole.Link, new() { Name = "Cost by quantity" }).ClickAsync();
        await page.FillAsync("#pieces", "250");
        await page.SelectOptionAsync("#sum", "direct-to-garment");
        await page.GetByRole(AriaRole.Button, new() { Name = "Draw it" }).ClickAsync();
        Assert.Contains("250 pieces, Direct to garment", await page.InnerTextAsync("#the-sum"));
        await page.LooksRightAsync(script);

        await page.GotoAsync(Address($"/versions/{version}"));
        if (script)
        {
            await page.Locator("#range").GetByRole(AriaRole.Slider).FocusAsync();
            await page.Keyboard.PressAsync("ArrowRight");
        }
        else
        {
            await page.Locator("#range").GetByRole(AriaRole.Link, new() { Name = "heavy" }).ClickAsync();
        }
        Assert.Contains("Heavy end", await page.InnerTextAsync("#range"));
        await page.LooksRightAsync(script);

        await page.GotoAsync(Address($"/compare/new?order={server.Order}"));
        var ticked = page.Locator("input[name=Methods]:checked, input[name=Grounds]:checked");
        while (await ticked.CountAsync() > 0)
            await ticked.First.ClickAsync();
        await page.CheckAsync("input[name=Methods][value=plastisol]");
        await page.CheckAsync("input[name=Grounds][value='tee/black']");
        await page.Locator("form[action='/compare'] .acts button").ClickAsync();
        await page.GetByText("after it was asked for.").WaitForAsync();
        Assert.True(await page.Locator("main figure img").CountAsync() == 1, await page.InnerTextAsync("main"));
        await page.LooksRightAsync(script);
        var sheet = page.Url;
        await page.FillAsync("#ForWhom", "the crew");
        await page.GetByRole(AriaRole.Button, new() { Name = "Make a link" }).ClickAsync();
        var link = await page.InnerTextAsync(".new-link");

        var holder = await browser.PageAsync(script, width, scheme);
        await holder.GotoAsync(Address(new Uri(link).AbsolutePath));
        await holder.LooksRightAsync(script);
        await holder.Locator("input[name=Cell]").First.CheckAsync();
        await holder.FillAsync("#Name", "Kim Reed");
        await holder.Keyboard.PressAsync("Enter");
        await holder.Locator("#said").WaitForAsync();
        await holder.LooksRightAsync(script);
        await page.GotoAsync(Address(new Uri(sheet).AbsolutePath));
        Assert.Contains("Kim Reed", await page.InnerTextAsync("main"));
        await page.LooksRightAsync(script);
    }

    private string Address(string path) => new Uri(server.Address, path).ToString();
}
