using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using NetVips;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Files;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>
/// A phone before a film: the browser's camera shows a picture of a film this server made. MJPEG is JPEG after JPEG, which is what
/// Chromium takes for a camera.
/// </summary>
public sealed class CameraTests(RunningServer server) : IClassFixture<RunningServer>
{
    [Fact]
    public async Task The_camera_reads_a_film_and_the_answer_follows_what_stands_about_its_version()
    {
        var version = await server.RenderedVersionAsync("before the camera");
        var order = await server.OrderOfAsync(version);
        using var client = new Visitor(server);
        var review = (await client.GetAsync(await server.SentLinkAsync(version))).Location!;
        await client.GetAsync(review);
        var film = await CameraAsync(await FilmAsync(version));
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await LaunchAsync(playwright, film);
        var phone = await SignedInAsync(browser);

        var before = await ReadAsync(phone);
        await client.PostAsync(await RunningServer.LastLookAsync(client, review));
        var approved = await ReadAsync(phone);
        var edit = await server.Staff.GetAsync($"/orders/{order.Id}/edit");
        var changed = RunningServer.OrderFields("before the camera");
        changed["WidthMm"] = "42";
        await server.Staff.PostAsync(edit, changed, form: 1);
        await server.SentLinkAsync(await server.FinishedAsync(order.Id));
        var superseded = await ReadAsync(phone);
        File.Delete(film);

        Assert.Equal("STOP. Not approved", before);
        Assert.Equal("Version 1, approved by Kim Reed, screen 1 of 2", approved);
        Assert.Equal("STOP. Superseded: version 2 is out", superseded);
        Assert.False(await phone.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth"));
    }

    [Fact]
    public async Task A_code_from_elsewhere_is_stopped()
    {
        var film = await CameraAsync(Square("4711/front/3/2/3F2A-91C0"));
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await LaunchAsync(playwright, film);

        var answer = await ReadAsync(await SignedInAsync(browser));
        File.Delete(film);

        Assert.Equal("STOP. Not one of our films", answer);
    }

    /// <summary>The upper right of the first film, where its label and square are, as near as a phone is held.</summary>
    private async Task<Image> FilmAsync(Guid version)
    {
        var digest = await server.ReadAsync(db =>
            db.VersionFiles.Where(f => f.VersionId == version && f.Role == FileRole.Plate)
                .OrderBy(f => f.Path)
                .Select(f => f.Sha256)
                .FirstAsync()
        );
        using var film = Image.NewFromBuffer(await server.Service<IFileStore>().ReadCheckedAsync(digest, default));
        const double PixelsPerMm = 300 / 25.4;
        var (width, height) = (
            Math.Min(film.Width, (int)(34 * PixelsPerMm)),
            Math.Min(film.Height, (int)(60 * PixelsPerMm))
        );
        using var label = film.Crop(film.Width - width, 0, width, height);
        return (label.Bands == 1 ? label : label.ExtractBand(0)).Copy();
    }

    private static Image Square(string text)
    {
        const int Module = 8;
        const int Quiet = 4;
        var modules = SquareCode.Of(text);
        var side = (modules.GetLength(0) + 2 * Quiet) * Module;
        var pixels = new byte[side * side];
        for (var y = 0; y < side; y++)
        for (var x = 0; x < side; x++)
        {
            var (row, column) = (y / Module - Quiet, x / Module - Quiet);
            var isDark =
                row >= 0
                && column >= 0
                && row < modules.GetLength(0)
                && column < modules.GetLength(1)
                && modules[row, column];
            pixels[y * side + x] = isDark ? (byte)0 : (byte)255;
        }
        return Image.NewFromMemoryCopy(pixels, side, side, 1, Enums.BandFormat.Uchar);
    }

    private static async Task<string> CameraAsync(Image picture)
    {
        const int Width = 1280;
        const int Height = 720;
        var scale = Math.Min((double)Width / picture.Width, (double)Height / picture.Height);
        using var near = picture.Resize(scale, kernel: Enums.Kernel.Linear).Cast(Enums.BandFormat.Uchar);
        using var frame = near.Gravity(
                Enums.CompassDirection.Centre,
                Width,
                Height,
                extend: Enums.Extend.Background,
                background: [255.0]
            )
            .Copy(interpretation: Enums.Interpretation.Bw)
            .Colourspace(Enums.Interpretation.Srgb);
        var jpeg = frame.JpegsaveBuffer(q: 92);
        var path = Path.Combine(Path.GetTempPath(), $"camera-{Guid.NewGuid():N}.mjpeg");
        await using var file = File.Create(path);
        for (var at = 0; at < 3; at++)
            await file.WriteAsync(jpeg);
        return path;
    }

    private static Task<IBrowser> LaunchAsync(IPlaywright playwright, string camera) =>
        playwright.LaunchChromiumAsync(
            "--use-fake-device-for-media-stream",
            "--use-fake-ui-for-media-stream",
            $"--use-file-for-fake-video-capture={camera}"
        );

    private async Task<IPage> SignedInAsync(IBrowser browser)
    {
        var context = await browser.NewContextAsync(
            new()
            {
                ViewportSize = new() { Width = 390, Height = 844 },
            }
        );
        context.SetDefaultTimeout(Browsing.PatienceMs);
        var page = await context.NewPageAsync();
        await page.SignInAsync(server.Address);
        return page;
    }

    private async Task<string> ReadAsync(IPage page)
    {
        await page.GotoAsync(new Uri(server.Address, "/scan").ToString());
        await page.GetByRole(AriaRole.Button, new() { Name = "Read with the camera" }).ClickAsync();
        await page.Locator(".scan-answer h1").WaitForAsync();
        return (await page.Locator(".scan-answer h1").TextContentAsync())!;
    }
}
