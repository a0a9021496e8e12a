using Microsoft.Playwright;

namespace Browser.Tests;

/// <summary>verify.html opened from a folder, as somebody does who kept a copy: no server, and no crypto.subtle to lean on.</summary>
public sealed class VerifyPageTests
{
    private const string Key = "lindhag.example/proofs/1+7353cc81+AUwSk+gwW8BRqU5Qz1OR/1laT/QFiC4HGJRCTuETI1QT";

    [Fact]
    public async Task A_packet_is_checked_from_a_folder_without_a_network()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.LaunchChromiumAsync();
        var page = await browser.NewPageAsync(
            new()
            {
                ViewportSize = new() { Width = 390, Height = 844 },
                ColorScheme = ColorScheme.Dark,
                Offline = true,
            }
        );
        var asked = new List<string>();
        var complaints = new List<string>();
        page.Request += (_, request) => asked.Add(request.Url);
        page.Console += (_, message) => complaints.Add(message.Text);
        page.PageError += (_, error) => complaints.Add(error);
        await page.GotoAsync(new Uri(Path.Combine(AppContext.BaseDirectory, "verify.html")).ToString());

        await page.ClickAsync("#check");
        Assert.Equal("Choose the packet first.", await page.InnerTextAsync("#problem"));
        await page.SetInputFilesAsync("#packet", Packet("approved"));
        await Expect(page, "valid in itself, not anchored outside");
        await page.FillAsync("#key", Key);
        await page.ClickAsync("#check");
        await Expect(page, "valid");
        Assert.Equal(
            "valid: Ada Strand approved this version for production (Lindhag Screen Works, order HRC-104, version 3, 2026-11-24T22:08:34.120Z, evidence E0)",
            await page.InnerTextAsync("#summary")
        );
        Assert.Equal("ok", await page.InnerTextAsync("#steps li:first-child b"));
        Assert.True(await page.EvaluateAsync<bool>("document.querySelector('figure img').decode().then(() => true)"));
        Assert.False(await page.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth"));
        await page.AxeFindsNothingAsync("a valid packet");
        await PhotographAsync(page, "verify-valid");

        await page.SetInputFilesAsync("#packet", Packet("a-bound-file-changed"));
        await Expect(page, "not valid");
        Assert.Contains(
            "plates/02-red.tif is not the file of the manifest (SHA-256 differs)",
            await page.InnerTextAsync("#steps .WRONG"),
            StringComparison.Ordinal
        );
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        await page.AxeFindsNothingAsync("a changed packet");
        await PhotographAsync(page, "verify-not-valid");

        await page.FillAsync("#key", "nonsense");
        await page.ClickAsync("#check");
        Assert.Equal(
            "'nonsense' is not a key: expected NAME+KEYID+BASE64 of one type byte and 32 key bytes",
            await page.InnerTextAsync("#problem")
        );

        Assert.All(
            asked,
            url =>
                Assert.True(
                    url.StartsWith("file:", StringComparison.Ordinal)
                        || url.StartsWith("blob:", StringComparison.Ordinal),
                    url
                )
        );
        Assert.Empty(complaints);
    }

    private static Task Expect(IPage page, string verdict) =>
        Assertions.Expect(page.Locator("#verdict")).ToHaveTextAsync(verdict);

    private static async Task PhotographAsync(IPage page, string name)
    {
        if (PagesTests.PictureFolder is { } folder)
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, name + ".png"), FullPage = true });
    }

    private static string Packet(string name)
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "ProofDesk.sln")))
            folder = Path.GetDirectoryName(folder)!;
        return Path.Combine(folder, "tests", "Vectors", "packets", name + ".zip");
    }
}
