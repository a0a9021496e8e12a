using Microsoft.Playwright;
using ProofDesk.Judges;

namespace Browser.Tests;

/// <summary>
/// A page, wide and light, then narrow and dark: axe finds nothing and nothing hangs over the edge, at 320 px either. With
/// PROOFDESK_LONG=1 at three widths in both themes, by every rule. With PROOFDESK_PICTURES set to a folder the page is photographed into it, light,
/// at 1440 and 390 px; PROOFDESK_LOOKS=1 adds dark, forced colours and 320 px (400 % zoom of 1280).
/// </summary>
internal sealed class PageJudge(IPage page, Uri server)
{
    /// <summary>What can be right wide and light and wrong narrow and dark; all other rules read the same document twice.</summary>
    private static readonly string[] OfLayout =
    [
        "color-contrast",
        "link-in-text-block",
        "scrollable-region-focusable",
        "aria-hidden-focus",
        "label",
        "link-name",
        "button-name",
    ];

    public async Task OpenAsync(string path, string name)
    {
        await page.GotoAsync(new Uri(server, path).ToString());
        await JudgeAsync(name);
    }

    public async Task JudgeAsync(string name)
    {
        await JudgeAsync(name, 1440, ColorScheme.Light);
        await JudgeAsync(name, 390, ColorScheme.Dark, LongCounts.Asked ? [] : OfLayout);
        if (LongCounts.Asked)
        {
            await JudgeAsync(name, 1440, ColorScheme.Dark);
            await JudgeAsync(name, 390, ColorScheme.Light);
            await JudgeAsync(name, 320, ColorScheme.Light);
            await JudgeAsync(name, 320, ColorScheme.Dark);
        }
        else
        {
            await FitsAsync(name, 320);
        }
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        await page.SetViewportSizeAsync(1440, 900);
    }

    private async Task JudgeAsync(string name, int width, ColorScheme scheme, params string[] rules)
    {
        await page.EmulateMediaAsync(new() { ColorScheme = scheme });
        await FitsAsync(name, width);
        // A word right before @if makes Razor take the rest for text.
        Assert.DoesNotMatch("@(if|else|for|foreach|Model|switch)\\b", await page.InnerTextAsync("body"));
        await page.AxeFindsNothingAsync($"{name} at {width}, {scheme}", rules);
        if (
            PagesTests.PictureFolder is { } folder
            && (width, scheme) is (1440, ColorScheme.Light) or (390, ColorScheme.Dark)
        )
            await PhotographAsync(folder, name, width);
    }

    private async Task FitsAsync(string name, int width)
    {
        await page.SetViewportSizeAsync(width, 900);
        Assert.False(
            await page.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth"),
            $"{name} is wider than {width} px"
        );
    }

    // Pictures that load late are called first, or the photograph shows holes.
    private async Task PhotographAsync(string folder, string name, int width)
    {
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        await page.EvaluateAsync(
            "Promise.all([...document.images].map(i => { i.loading = 'eager'; return i.complete ? 0 : new Promise(r => i.onload = i.onerror = r); }))"
        );
        await ShootAsync($"{name}-{width}");
        if (Environment.GetEnvironmentVariable("PROOFDESK_LOOKS") != "1")
            return;
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
        await ShootAsync($"{name}-{width}-dark");
        if (width < 1440)
        {
            await page.SetViewportSizeAsync(320, 900);
            await ShootAsync($"{name}-320-dark");
        }
        else
        {
            await page.EmulateMediaAsync(new() { ForcedColors = ForcedColors.Active });
            await ShootAsync($"{name}-{width}-forced");
            await page.EmulateMediaAsync(new() { ForcedColors = ForcedColors.None });
        }

        Task ShootAsync(string file) =>
            page.ScreenshotAsync(
                new()
                {
                    Path = Path.Combine(folder, file + ".jpeg"),
                    FullPage = true,
                    Type = ScreenshotType.Jpeg,
                    Quality = 70,
                }
            );
    }
}
