using System.Diagnostics;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>The whole job through a real browser and a real mail server.</summary>
public sealed class MainJobTests(MailedServer server) : IClassFixture<MailedServer>, IAsyncLifetime
{
    private readonly List<string> complaints = [];
    private IPlaywright playwright = null!;
    private IBrowser browser = null!;

    public async Task InitializeAsync()
    {
        playwright = await Playwright.CreateAsync();
        browser = await playwright.LaunchChromiumAsync(
            "--disable-quic",
            "--disable-component-update",
            "--disable-sync"
        );
    }

    public async Task DisposeAsync()
    {
        await browser.CloseAsync();
        playwright.Dispose();
    }

    [Fact]
    public async Task Upload_render_send_approve_on_a_phone_and_verify_the_packet()
    {
        var desk = await PageAsync(1440, 900, script: true);
        await SignInAsync(desk);
        await LooksRightAsync(desk);
        await MakeOrderAsync(desk, "Phone crew");
        await desk.GetByRole(AriaRole.Link, new() { Name = "Send version 1" })
            .WaitForAsync(new() { Timeout = 240_000 });
        await LooksRightAsync(desk);

        await desk.GetByRole(AriaRole.Link, new() { Name = "Version 1", Exact = true }).ClickAsync();
        await desk.Locator("#zoom canvas").First.WaitForAsync();
        await LooksRightAsync(desk);
        await desk.GetByRole(AriaRole.Link, new() { Name = "Send the proof" }).ClickAsync();
        await LooksRightAsync(desk);
        await desk.GetByRole(AriaRole.Button, new() { Name = "Send version 1" }).ClickAsync();
        var letter = await server.LetterAsync("Proof for", "Phone crew");
        await desk.GotoAsync(Address("/outbox"));
        await LooksRightAsync(desk);

        var phone = await PageAsync(390, 844, script: true);
        await phone.GotoAsync(Local(LinkIn(letter.TextBody)));
        await LooksRightAsync(phone);
        Assert.False(await phone.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth"));
        await phone.GetByRole(AriaRole.Link, new() { Name = "Approve…" }).First.ClickAsync();
        await LooksRightAsync(phone);
        await ApproveAsync(phone);
        await LooksRightAsync(phone);
        Assert.Equal("Approved. Thank you.", await phone.Locator("h1").TextContentAsync());

        var download = await phone.RunAndWaitForDownloadAsync(() =>
            phone.GetByRole(AriaRole.Link, new() { Name = "Download the sealed packet" }).ClickAsync()
        );
        var packet = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.zip");
        await download.SaveAsAsync(packet);
        var key = server.Service<LogKeeper>().VerifierKey;
        Assert.Equal(0, await VerifyAsync(packet, key));
        var bytes = await File.ReadAllBytesAsync(packet);
        bytes[bytes.Length / 2] ^= 1;
        await File.WriteAllBytesAsync(packet, bytes);
        Assert.Equal(1, await VerifyAsync(packet, key));
        File.Delete(packet);

        await desk.GotoAsync(Address("/records"));
        await LooksRightAsync(desk);
        await desk.GetByRole(AriaRole.Link, new() { Name = "approved" }).First.ClickAsync();
        await LooksRightAsync(desk);
        await server.LetterAsync("You approved", "Phone crew");
        Assert.Empty(complaints);
    }

    [Fact]
    public async Task Without_script_the_same_job_is_done_by_plain_forms()
    {
        var desk = await PageAsync(1440, 900, script: false);
        await SignInAsync(desk);
        await MakeOrderAsync(desk, "Plain crew");
        var orderId = Guid.Parse(desk.Url.Split('/')[^1]);
        var version = await server.FinishedAsync(orderId);
        await desk.GotoAsync(Address($"/versions/{version}/send"));
        await desk.GetByRole(AriaRole.Button, new() { Name = "Send version 1" }).ClickAsync();
        var letter = await server.LetterAsync("Proof for", "Plain crew");

        var phone = await PageAsync(390, 844, script: false);
        await phone.GotoAsync(Local(LinkIn(letter.TextBody)));
        await phone.GetByRole(AriaRole.Link, new() { Name = "Approve…" }).First.ClickAsync();
        await ApproveAsync(phone);

        Assert.Equal("Approved. Thank you.", await phone.Locator("h1").TextContentAsync());
    }

    private static async Task ApproveAsync(IPage page)
    {
        foreach (var box in new[] { "#Words", "#Size", "#Garments", "#Colours" })
            await page.CheckAsync(box);
        await page.FillAsync("#Name", "Kim Reed");
        await page.GetByRole(AriaRole.Button, new() { Name = "Go on to the last look" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Approve version 1" }).ClickAsync();
    }

    private async Task SignInAsync(IPage page)
    {
        await page.SignInAsync(server.Address);
        Assert.EndsWith("/desk", page.Url);
    }

    private async Task MakeOrderAsync(IPage page, string title)
    {
        await page.GotoAsync(Address("/orders/new"));
        await page.SetInputFilesAsync(
            "#Art",
            Path.Combine(AppContext.BaseDirectory, "SampleArt", "left-chest-mark.svg")
        );
        await page.FillAsync("#Title", title);
        await page.FillAsync("#ClientName", "Harbour Rowing Club");
        await page.FillAsync("#ClientEmail", "kim@harbour-rowing.example");
        await page.SelectOptionAsync("#Place", "LeftChest");
        await page.FillAsync("#WidthMm", "60");
        await page.FillAsync("#Words", "HARBOUR\nROWING CLUB");
        await page.SelectOptionAsync("#Lines_0__Ground", "tee/black");
        await page.FillAsync("#Lines_0__Counts_1__Count", "12");
        await page.GetByRole(AriaRole.Button, new() { Name = "Make the order" }).ClickAsync();
        await page.WaitForURLAsync(
            new Regex("/orders/[0-9a-f-]{36}$"),
            new() { WaitUntil = WaitUntilState.Commit, Timeout = 20_000 }
        );
    }

    private async Task<IPage> PageAsync(int width, int height, bool script)
    {
        var context = await browser.NewContextAsync(
            new()
            {
                ViewportSize = new() { Width = width, Height = height },
                JavaScriptEnabled = script,
            }
        );
        context.SetDefaultTimeout(Browsing.PatienceMs);
        var page = await context.NewPageAsync();
        page.Console += (_, said) =>
        {
            if (said.Type == "error")
                complaints.Add($"{page.Url}: {said.Text}");
        };
        return page;
    }

    // No rule of axe is broken, and the browser itself has nothing to say against the page.
    private static async Task LooksRightAsync(IPage page)
    {
        await page.AxeFindsNothingAsync(page.Url);
    }

    private static string LinkIn(string? text) => Regex.Match(text ?? "", @"http://\S+/r/\S+").Value;

    // The settings name port 5080; the test's server listens elsewhere.
    private string Local(string link) => Address(new Uri(link).PathAndQuery);

    private string Address(string path) => new Uri(server.Address, path).ToString();

    private static async Task<int> VerifyAsync(string packet, string key)
    {
        var cli = Path.Combine(AppContext.BaseDirectory, "proofdesk.dll");
        using var process = Process.Start("dotnet", [cli, "verify", packet, "--key", key, "--trust", "none"]);
        await process.WaitForExitAsync();
        return process.ExitCode;
    }
}
