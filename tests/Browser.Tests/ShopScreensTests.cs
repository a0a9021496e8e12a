using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>A desk with a full list: one order that goes all the way, and forty that only stand in it.</summary>
public sealed class ShopServer : CrestServer
{
    protected override string[] Grounds => ["tee/black", "tee/white"];

    protected override IEnumerable<string> Settings => ["--Office:UndoSeconds=3600"];

    public override async Task InitializeAsync()
    {
        await base.InitializeAsync();
        await ReadAsync(async db =>
        {
            var today = DateOnly.FromDateTime(DateTime.UtcNow);
            string[] titles =
            [
                "Harbour crew tees",
                "Quay run",
                "Night market aprons",
                "Choir hoodies",
                "Kiln fair bags",
            ];
            string[] clients =
            [
                "Harbour Rowing Club",
                "Quayside Runners",
                "Lantern Street Market",
                "Västra kören",
                "Kiln & Clay",
            ];
            for (var i = 0; i < 40; i++)
            {
                db.Orders.Add(
                    new Order
                    {
                        Number = 2001 + i,
                        Title = titles[i % 5] + (i < 5 ? "" : $" {i / 5 + 1}"),
                        Client = new Client { Name = clients[i * 3 % 5], Email = "a@b.example" },
                        InHandsDate = i % 9 == 8 ? null : today.AddDays(i - 3),
                        State = i % 10 == 9 ? OrderState.Closed : OrderState.WaitingForUs,
                        CreatedAt = DateTimeOffset.UtcNow,
                        Lines =
                        [
                            new()
                            {
                                GarmentId = "tee",
                                ColourId = "black",
                                Counts = [new() { Size = "M", Count = 12 + 7 * i }],
                            },
                        ],
                    }
                );
            }
            return await db.SaveChangesAsync();
        });
    }
}

/// <summary>The shop's screens before <see cref="PageJudge"/>: list, versions, tracking, ticket, counterfoil.</summary>
public sealed class ShopScreensTests(ShopServer server) : IClassFixture<ShopServer>, IAsyncLifetime
{
    private IPlaywright playwright = null!;
    private IBrowser browser = null!;
    private IPage page = null!;

    public async Task InitializeAsync()
    {
        playwright = await Playwright.CreateAsync();
        browser = await playwright.LaunchChromiumAsync();
        page = await NewPageAsync(script: true);
    }

    public async Task DisposeAsync()
    {
        await browser.CloseAsync();
        playwright.Dispose();
    }

    [Fact]
    public async Task The_shops_screens_read_well_and_its_papers_are_one_page_each()
    {
        var judge = new PageJudge(page, server.Address);
        await page.SignInAsync(server.Address);
        await judge.OpenAsync("/desk", "list");
        await judge.OpenAsync("/desk?turn=us&page=1", "list-one-turn");
        await judge.OpenAsync("/desk?find=HARBOUR", "list-found");
        await judge.OpenAsync("/desk?find=nobody", "list-nothing");
        await judge.OpenAsync("/desk?turn=done", "list-done");

        var first = await server.FinishedAsync(server.Order);
        await judge.OpenAsync($"/orders/{server.Order}/versions", "versions-one");
        await judge.OpenAsync($"/versions/{first}/send", "send-preview");
        await page.GetByRole(AriaRole.Button, new() { Name = "Send version 1" }).ClickAsync();
        await page.Locator("[data-undo]").WaitForAsync();
        await judge.JudgeAsync("tracking-undo");
        await judge.OpenAsync($"/versions/{first}/ticket", "ticket-not-released");
        await OnePageAsync($"/versions/{first}/ticket", "ticket-printed", 1);

        await ChangeAsync();
        var second = await server.FinishedAsync(server.Order);
        await judge.OpenAsync($"/orders/{server.Order}/versions", "versions");
        Assert.Equal(1, await page.GetByRole(AriaRole.Rowheader, new() { Name = "size", Exact = true }).CountAsync());

        var link = await server.SentLinkAsync(second);
        await ApproveAsync(link);
        await judge.OpenAsync($"/versions/{second}/tracking", "tracking-decided");
        await judge.OpenAsync($"/versions/{second}/ticket?paper=letter", "ticket");
        await judge.OpenAsync($"/versions/{second}/production", "production-away");
        var decision = await server.ReadAsync(db =>
            db.Decisions.Where(d => d.VersionId == second).Select(d => d.Id).SingleAsync()
        );
        await judge.OpenAsync($"/records/{decision}", "record-square");
        await OnePageAsync($"/records/{decision}", "record-printed", 1);
        await judge.OpenAsync($"/desk?find={(await server.OrderOfAsync(second)).Number}", "list-ready");
    }

    [Fact]
    public async Task Taking_back_works_without_script_too()
    {
        var plain = await NewPageAsync(script: false);
        await plain.SignInAsync(server.Address);
        var version = await server.RenderedVersionAsync("Plain and back");
        await plain.GotoAsync(new Uri(server.Address, $"/versions/{version}/send").ToString());
        await plain.GetByRole(AriaRole.Button, new() { Name = "Send version 1" }).ClickAsync();
        await plain.GetByRole(AriaRole.Button, new() { Name = "Take it back" }).ClickAsync();

        await plain.GetByText("Taken back. No letter left, no link exists").WaitForAsync();
        Assert.EndsWith($"/versions/{version}/send?taken=true", plain.Url);
    }

    private async Task<IPage> NewPageAsync(bool script)
    {
        var context = await browser.NewContextAsync(
            new()
            {
                ViewportSize = new() { Width = 1440, Height = 900 },
                JavaScriptEnabled = script,
            }
        );
        context.SetDefaultTimeout(Browsing.PatienceMs);
        return await context.NewPageAsync();
    }

    private async Task ChangeAsync()
    {
        await page.GotoAsync(new Uri(server.Address, $"/orders/{server.Order}/edit").ToString());
        await page.FillAsync("#WidthMm", "84");
        await page.GetByRole(AriaRole.Main).Locator("button[type=submit]").Last.ClickAsync();
    }

    private async Task ApproveAsync(string link)
    {
        using var client = server.NewVisitor();
        var review = (await client.GetAsync(link)).Location!;
        await client.GetAsync(review);
        await client.PostAsync(await RunningServer.LastLookAsync(client, review));
    }

    /// <summary>Printed by the browser itself.</summary>
    private async Task OnePageAsync(string path, string name, int most)
    {
        await page.GotoAsync(new Uri(server.Address, path).ToString());
        var pdf = await page.PdfAsync(new() { PreferCSSPageSize = true, Format = "A4" });
        if (PagesTests.PictureFolder is { } folder)
            await File.WriteAllBytesAsync(Path.Combine(folder, name + ".pdf"), pdf);
        var pages = System.Text.RegularExpressions.Regex.Count(
            System.Text.Encoding.Latin1.GetString(pdf),
            @"/Type\s*/Page\b(?!s)"
        );
        Assert.InRange(pages, 1, most);
    }
}
