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

    /// <summary>The shop's story and its client's, one after the other: on a telephone with script, on a desk without; or in all ways.</summary>
    public static TheoryData<bool, int, ColorScheme> Job()
    {
        var job = new TheoryData<bool, int, ColorScheme>();
        foreach (
            var (script, width, scheme) in Ways.Of((true, 390, ColorScheme.Dark), (false, 1440, ColorScheme.Light))
        )
            job.Add(script, width, scheme);
        return job;
    }

    [Theory]
    [MemberData(nameof(Job))]
    public async Task Upload_render_send_approve_and_verify_the_packet(bool script, int width, ColorScheme scheme)
    {
        var title = $"Crew {(script ? "with" : "without")} script {width} {scheme}";
        var desk = await PageAsync(script, width, scheme);
        await SignInAsync(desk);
        await desk.LooksRightAsync(script);
        await MakeOrderAsync(desk, title);
        // Comes by itself, without script too.
        await desk.GetByRole(AriaRole.Link, new() { Name = "Send version 1" })
            .WaitForAsync(new() { Timeout = 240_000 });
        await desk.LooksRightAsync(script);

        await desk.GetByRole(AriaRole.Link, new() { Name = "Version 1", Exact = true }).ClickAsync();
        if (script)
            await desk.Locator("#zoom canvas").First.WaitForAsync();
        await desk.LooksRightAsync(script);
        await desk.GetByRole(AriaRole.Link, new() { Name = "Send the proof" }).ClickAsync();
        await desk.LooksRightAsync(script);
        await desk.GetByRole(AriaRole.Button, new() { Name = "Send version 1" }).ClickAsync();
        var letter = await server.LetterAsync("Proof for", title);
        await desk.GotoAsync(Address("/outbox"));
        await desk.LooksRightAsync(script);

        var client = await PageAsync(script, width, scheme);
        await client.GotoAsync(Local(LinkIn(letter.TextBody)));
        await client.LooksRightAsync(script);
        await client.GetByRole(AriaRole.Link, new() { Name = "Approve…" }).First.ClickAsync();
        await client.LooksRightAsync(script);
        await ApproveAsync(client);
        await client.LooksRightAsync(script);
        Assert.Equal("Approved. Thank you.", await client.Locator("h1").TextContentAsync());

        var download = await client.RunAndWaitForDownloadAsync(() =>
            client.GetByRole(AriaRole.Link, new() { Name = "Download the sealed packet" }).ClickAsync()
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
        await desk.LooksRightAsync(script);
        await desk.GetByRole(AriaRole.Link, new() { Name = "approved" }).First.ClickAsync();
        await desk.LooksRightAsync(script);
        await server.LetterAsync("You approved", title);
        Assert.Empty(complaints);
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

    private async Task<IPage> PageAsync(bool script, int width, ColorScheme scheme)
    {
        var page = await browser.PageAsync(script, width, scheme);
        page.Console += (_, said) =>
        {
            if (said.Type == "error")
                complaints.Add($"{page.Url}: {said.Text}");
        };
        return page;
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
