using System.Net;
using Microsoft.Playwright;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Tests.Photographs;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>A desk without orders.</summary>
public sealed class GarmentDesk : RunningServer;

/// <summary>Garments in a browser: measured with the mouse and, without script, with the keyboard.</summary>
public sealed class GarmentPagesTests(GarmentDesk server) : IClassFixture<GarmentDesk>
{
    [Fact]
    public async Task A_photograph_is_measured_and_kept_with_the_keyboard_and_without_script()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.LaunchChromiumAsync();
        // Script off: axe is brought in by the judge in a context of its own.
        var plain = await browser.NewContextAsync(
            new()
            {
                JavaScriptEnabled = false,
                ViewportSize = new() { Width = 1440, Height = 900 },
            }
        );
        plain.SetDefaultTimeout(Browsing.PatienceMs);
        var page = await plain.NewPageAsync();
        await page.SignInAsync(server.Address);
        await page.GotoAsync(new Uri(server.Address, "/garments/photographs").ToString());
        await page.SetInputFilesAsync(
            "#Photo",
            new FilePayload
            {
                Name = "tee.png",
                MimeType = "image/png",
                Buffer = Photo(),
            }
        );
        await page.GetByRole(AriaRole.Button, new() { Name = "Measure it" }).ClickAsync();
        var address = page.Url;

        // One point by the mouse; the rest by the keyboard. The picture must have the size that the server counts with.
        var shown = await page.Locator("input[type=image]").BoundingBoxAsync();
        Assert.Equal(640, shown!.Width, 0.5);
        Assert.Equal(716, shown.Height, 1.0);
        await page.Locator("input[type=image]")
            .ClickAsync(
                new()
                {
                    Position = new() { X = 64, Y = 645 },
                }
            );
        Assert.Contains("Ax=10&Ay=90.08", page.Url);
        foreach (
            var (field, value) in new[]
            {
                ("Ay", "90"),
                ("Bx", "90"),
                ("By", "90"),
                ("Mm", "444.4"),
                ("Cx", "90"),
                ("Cy", "10"),
                ("Dx", "90"),
                ("Dy", "90"),
                ("Mm2", "497.8"),
                ("Sx", "50"),
                ("Sy", "10"),
                ("Ex", "50"),
                ("Ey", "90"),
                ("Area", "9 9; 91 91"),
            }
        )
        {
            await page.FocusAsync("#" + field);
            await page.Keyboard.PressAsync("Control+A");
            await page.Keyboard.TypeAsync(value);
        }
        await page.FocusAsync("text=Measure by these numbers");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForSelectorAsync("text=disagree by 0.0 %");
        var measured = page.Url;
        await page.FocusAsync("#Name");
        await page.Keyboard.TypeAsync("Pier tee");
        await page.FocusAsync("text=Keep the garment");
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForURLAsync("**/garments/own-pier-tee");

        var context = await browser.NewContextAsync(
            new()
            {
                ViewportSize = new() { Width = 1440, Height = 900 },
            }
        );
        context.SetDefaultTimeout(Browsing.PatienceMs);
        var scripted = await context.NewPageAsync();
        await scripted.SignInAsync(server.Address);
        var judge = new PageJudge(scripted, server.Address);
        await judge.OpenAsync("/garments", "garments");
        await judge.OpenAsync("/garments/photographs", "garment-photograph-upload");
        await judge.OpenAsync(new Uri(address).AbsolutePath, "garment-photograph-empty");
        await judge.OpenAsync(new Uri(measured).PathAndQuery, "garment-photograph-measured");
        await judge.OpenAsync("/garments/own-pier-tee", "garment-own");
        await judge.OpenAsync("/garments/tee", "garment-shipped");
        await judge.OpenAsync("/garments/new?from=tote", "garment-new");
        await scripted.GetByRole(AriaRole.Button, new() { Name = "Keep the garment" }).ClickAsync();
        await judge.JudgeAsync("garment-refused");
        Assert.Equal(
            HttpStatusCode.OK,
            (await server.Staff.GetAsync("/garments/own-pier-tee/as-photographed.png")).Status
        );
    }

    /// <summary>A photograph to look at when pictures are taken, a drawn one otherwise.</summary>
    private static byte[] Photo() => PictureWriter.Png(DrawnPhoto.Usual.Draw());
}
