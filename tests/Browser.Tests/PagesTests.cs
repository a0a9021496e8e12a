using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Mail;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>
/// A small order for two garments; a first start as a newcomer has it, with the sample order at full film resolution, only when
/// pictures are taken.
/// </summary>
public sealed class SampleServer : CrestServer
{
    protected override string[] Grounds => ["tee/black", "tee/white"];

    protected override IEnumerable<string> Settings =>
        PagesTests.PictureFolder is null ? [] : ["--Server:SampleOrder=true", "--Server:FilmDpi=1440"];

    public override async Task InitializeAsync()
    {
        await base.InitializeAsync();
        if (PagesTests.PictureFolder is not null)
            Order = await ReadAsync(db => db.Orders.OrderBy(o => o.Number).Select(o => o.Id).FirstAsync());
    }
}

/// <summary>Every page stands before <see cref="PageJudge"/>.</summary>
public sealed class PagesTests(SampleServer server) : IClassFixture<SampleServer>, IAsyncLifetime
{
    private IPlaywright playwright = null!;
    private IBrowser browser = null!;
    private IPage page = null!;

    public static string? PictureFolder => Environment.GetEnvironmentVariable("PROOFDESK_PICTURES");

    public async Task InitializeAsync()
    {
        playwright = await Playwright.CreateAsync();
        browser = await playwright.LaunchChromiumAsync();
        var context = await browser.NewContextAsync(
            new()
            {
                ViewportSize = new() { Width = 1440, Height = 900 },
            }
        );
        context.SetDefaultTimeout(Browsing.PatienceMs);
        page = await context.NewPageAsync();
    }

    public async Task DisposeAsync()
    {
        await browser.CloseAsync();
        playwright.Dispose();
    }

    [Fact]
    public async Task Every_page_reads_well_wide_and_narrow_light_and_dark()
    {
        var judge = new PageJudge(page, server.Address);
        await judge.OpenAsync("/sign-in", "sign-in");
        await page.SignInAsync(server.Address);
        await judge.OpenAsync("/orders/new", "new-order");
        var order = server.Order;
        await judge.OpenAsync($"/orders/{order}/background", "background");
        var version = await server.FinishedAsync(order);
        await judge.OpenAsync($"/versions/{version}", "proof");
        await judge.OpenAsync($"/versions/{version}/light-table?film=1", "light-table");
        await judge.OpenAsync($"/versions/{version}/films", "films-refused");
        await judge.OpenAsync($"/versions/{version}/send", "send");
        var link = await server.SentLinkAsync(version);
        await judge.OpenAsync($"/orders/{order}/edit", "order-edit");
        await judge.OpenAsync($"/versions/{version}/elsewhere", "elsewhere");
        await judge.OpenAsync("/inks", "inks");
        await judge.OpenAsync("/inks/new", "ink-new");
        await judge.OpenAsync("/presses", "presses");
        await judge.OpenAsync("/presses/new", "press-new");
        await judge.OpenAsync("/devices", "devices");
        await judge.OpenAsync("/devices/new", "device-new");
        await judge.OpenAsync("/frames/new", "frame-new");
        await judge.OpenAsync("/outbox", "outbox");
        await judge.OpenAsync(
            $"/outbox/{await server.ReadAsync(db => db.OutboxMails.Select(m => m.Id).FirstAsync())}",
            "letter"
        );
        await judge.OpenAsync("/health", "health");
        await judge.OpenAsync("/shop", "shop-rules");
        await judge.OpenAsync("/rates", "rates");
        await judge.OpenAsync("/people", "people");
        await page.FillAsync("#Name", "Noor Vik");
        await page.FillAsync("#Email", "noor@lindhag.example");
        await page.CheckAsync("input[name=Role][value=Production]");
        await page.GetByRole(AriaRole.Button, new() { Name = "Mail the link" }).ClickAsync();
        await judge.JudgeAsync("people-invited");
        await judge.OpenAsync(await JoinLinkAsync(), "join");
        await judge.OpenAsync("/account", "account");
        await judge.OpenAsync("/account/password", "account-password");
        await judge.OpenAsync("/account/second-factor", "account-second-step");
        await judge.OpenAsync("/account/again?then=%2Faccount", "account-again");
        await judge.OpenAsync("/scan", "scan");
        await judge.OpenAsync("/scan?code=1/front/1/1/0000-0000", "scan-stop");
        await judge.OpenAsync("/no-such-page", "nothing-here");
        await judge.OpenAsync(link[..^4], "link-incomplete");

        await judge.OpenAsync(link, "client-look");
        var review = new Uri(page.Url).AbsolutePath;
        await judge.OpenAsync(review + "/changes", "client-changes");
        await judge.OpenAsync(review + "/approve", "client-approve");
        foreach (var box in new[] { "#Words", "#Size", "#Garments", "#Colours" })
            await page.CheckAsync(box);
        await page.FillAsync("#Name", "Kim Reed");
        await AskForCodeAsync(order, EvidenceLevel.Code);
        await page.GetByRole(AriaRole.Button, new() { Name = "Go on to the last look" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Mail me a code" }).ClickAsync();
        await judge.JudgeAsync("client-code");
        await AskForCodeAsync(order, null);
        await page.GotoAsync(new Uri(server.Address, review + "/approve").ToString());
        foreach (var box in new[] { "#Words", "#Size", "#Garments", "#Colours" })
            await page.CheckAsync(box);
        await page.FillAsync("#Name", "Kim Reed");
        await page.GetByRole(AriaRole.Button, new() { Name = "Go on to the last look" }).ClickAsync();
        await judge.JudgeAsync("client-last-look");
        await page.GetByRole(AriaRole.Button, new() { Name = "Approve version 1" }).ClickAsync();
        await judge.JudgeAsync("client-receipt");

        var decision = await server.ReadAsync(db => db.Decisions.Select(d => d.Id).FirstAsync());
        await judge.OpenAsync($"/orders/{order}", "order");
        await judge.OpenAsync($"/versions/{version}/films", "films");
        await judge.OpenAsync($"/versions/{version}/production", "production");
        await judge.OpenAsync($"/versions/{version}/reorder", "reorder");
        if (PictureFolder is not null)
        {
            // A sheet of real proofs, for the guides.
            await page.GotoAsync(new Uri(server.Address, $"/compare/new?order={order}").ToString());
            await page.Locator("form[action='/compare'] .acts button").ClickAsync();
            await page.GetByText("after it was asked for.").WaitForAsync();
            await judge.JudgeAsync("compare-proofs");
        }
        var receipt = RunningServer.LinkIn(await server.LetterAsync(version, "receipt"));
        await judge.OpenAsync(receipt, "client-dispute");
        await page.GetByRole(AriaRole.Button, new() { Name = "This was not me" }).ClickAsync();
        await judge.JudgeAsync("client-disputed");
        await judge.OpenAsync($"/orders/{order}", "order-held");
        await judge.OpenAsync($"/records/{decision}", "record");
        await judge.OpenAsync("/records", "records");
        await judge.OpenAsync("/audit", "audit");
        await judge.OpenAsync("/desk", "desk");
        await judge.OpenAsync("/verify.html", "verify");
    }

    private async Task<string> JoinLinkAsync()
    {
        var mail = await server.ReadAsync(db =>
            db.OutboxMails.Where(m => m.Kind == StaffInvitations.LetterKind).Select(m => m.Id).SingleAsync()
        );
        for (var tries = 0; tries < 100; tries++)
        {
            if (await server.Service<Outbox>().TextOfAsync(mail) is { } text)
            {
                var start = text.IndexOf("/join/", StringComparison.Ordinal);
                return text[start..text.IndexOf('\n', start)].Trim();
            }
            await Task.Delay(50);
        }
        throw new TimeoutException("no letter in five seconds");
    }

    private Task<int> AskForCodeAsync(Guid order, EvidenceLevel? asked) =>
        server.ReadAsync(async db =>
        {
            (await db.Orders.SingleAsync(o => o.Id == order)).EvidenceAsked = asked;
            return await db.SaveChangesAsync();
        });

    /// <summary>A painting on two cloths, small: rules for inks, the table of screens, two sets, where the print cannot follow.</summary>
    [Fact]
    public async Task Pages_about_painted_art_read_well_too()
    {
        var judge = new PageJudge(page, server.Address);
        await page.SignInAsync(server.Address);
        var fields = RunningServer.OrderFields("Evening glow");
        fields["Method"] = "simulated-process";
        fields["InkCount"] = "3";
        fields["FlatAreas"] = "toned";
        fields["Lines[0].Ground"] = "tee/black";
        fields["Lines[1].Ground"] = "tee/white";
        fields["Lines[1].Counts[0].Size"] = "M";
        fields["Lines[1].Counts[0].Count"] = "6";
        fields["Rules[0].Ink"] = "violet";
        fields["Rules[0].Use"] = "must";
        fields["Rules[0].Place"] = "1";
        var order = await MadeAsync(fields);
        var version = await server.FinishedAsync(order);

        await judge.OpenAsync($"/orders/{order}", "painted-order");
        await judge.OpenAsync($"/orders/{order}/edit", "painted-edit");
        await judge.OpenAsync($"/versions/{version}?ground=tee%2Fblack", "painted-proof");
        foreach (var heading in new[] { "What does one more screen buy?", "One set or two" })
            Assert.Equal(1, await page.GetByRole(AriaRole.Heading, new() { Name = heading }).CountAsync());
        var screens = $"/versions/{version}/screens?ground=tee%2Fblack";
        // The page that counts comes back by itself; for as long as it is judged it must not.
        await page.RouteAsync("**/again*.js*", route => route.AbortAsync());
        await judge.OpenAsync(screens, "painted-screens-counting");
        await page.UnrouteAllAsync();
        await page.ReloadAsync();
        await page.Locator("table").WaitForAsync();
        await judge.JudgeAsync("painted-screens");
        await judge.OpenAsync($"/versions/{version}/light-table?film=1", "painted-light-table");
    }

    /// <summary>Text that stands in the art as text is offered, and asked about.</summary>
    [Fact]
    public async Task The_page_of_words_that_were_found_reads_well()
    {
        var judge = new PageJudge(page, server.Address);
        await page.SignInAsync(server.Address);
        var fields = RunningServer.OrderFields("Words in it");
        fields["Words"] = "";
        const string Words = "<text x=\"4\" y=\"40\" font-size=\"16\" fill=\"#c8332b\">HARBOUR ROWING</text></svg>";
        var order = await MadeAsync(fields, Glow.Replace("</svg>", Words, StringComparison.Ordinal));

        await judge.OpenAsync($"/orders/{order}/words", "words");

        Assert.Contains("HARBOUR ROWING", await page.Locator("textarea").InputValueAsync(), StringComparison.Ordinal);
    }

    private const string Glow = """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 80 60" width="80" height="60">
          <defs><linearGradient id="g" x2="0" y2="1"><stop offset="0" stop-color="#24307e"/><stop offset="0.6" stop-color="#d8442a"/><stop offset="1" stop-color="#ffe45c"/></linearGradient></defs>
          <ellipse cx="40" cy="30" rx="40" ry="30" fill="url(#g)"/>
        </svg>
        """;

    private async Task<Guid> MadeAsync(Dictionary<string, string> fields, string art = Glow)
    {
        var made = await server.Staff.PostAsync(
            await server.Staff.GetAsync("/orders/new"),
            fields,
            form: 1,
            file: ("Art", "glow.svg", art)
        );
        return Guid.Parse(made.Location!.Split('/')[2]);
    }
}
