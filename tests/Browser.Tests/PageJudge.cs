using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Browser.Tests;

/// <summary>
/// A page, wide and light, then narrow and dark: axe finds nothing and nothing hangs over the edge. With PROOFDESK_PICTURES
/// set to a folder the page is photographed into it, light, at 1440 and 390 px.
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
        await JudgeAsync(name, 1440, ColorScheme.Light, new());
        await JudgeAsync(
            name,
            390,
            ColorScheme.Dark,
            new()
            {
                RunOnly = new() { Type = "rule", Values = [.. OfLayout] },
            }
        );
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        await page.SetViewportSizeAsync(1440, 900);
    }

    private async Task JudgeAsync(string name, int width, ColorScheme scheme, AxeRunOptions rules)
    {
        await page.SetViewportSizeAsync(width, 900);
        await page.EmulateMediaAsync(new() { ColorScheme = scheme });
        Assert.False(
            await page.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth"),
            $"{name} is wider than {width} px"
        );
        // A word right before @if makes Razor take the rest for text.
        Assert.DoesNotMatch("@(if|else|for|foreach|Model|switch)\\b", await page.InnerTextAsync("body"));
        var result = await page.RunAxe(rules);
        Assert.True(
            result.Violations.Length == 0,
            $"{name} at {width}, {scheme}: {string.Join("; ", result.Violations.Select(v => $"{v.Id} at {string.Join(", ", v.Nodes.Select(n => n.Html))}"))}"
        );
        if (PagesTests.PictureFolder is { } folder)
            await PhotographAsync(Path.Combine(folder, $"{name}-{width}.jpeg"));
    }

    // Pictures that load late are called first, or the photograph shows holes.
    private async Task PhotographAsync(string path)
    {
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Light });
        await page.EvaluateAsync(
            "Promise.all([...document.images].map(i => { i.loading = 'eager'; return i.complete ? 0 : new Promise(r => i.onload = i.onerror = r); }))"
        );
        await page.ScreenshotAsync(
            new()
            {
                Path = path,
                FullPage = true,
                Type = ScreenshotType.Jpeg,
                Quality = 70,
            }
        );
    }
}
