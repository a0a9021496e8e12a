using Microsoft.Playwright;
using ProofDesk.Judges;

namespace Browser.Tests;

/// <summary>How somebody may sit before a page: with script or without, at a width, in a theme.</summary>
internal static class Ways
{
    /// <summary>All twelve: with and without script, at 320, 390 and 1440 px, light and dark.</summary>
    public static IEnumerable<(bool Script, int Width, ColorScheme Scheme)> All =>
        from script in new[] { true, false }
        from width in new[] { 320, 390, 1440 }
        from scheme in new[] { ColorScheme.Light, ColorScheme.Dark }
        select (script, width, scheme);

    /// <summary>Those named; all twelve when long counts are asked for.</summary>
    public static IEnumerable<(bool Script, int Width, ColorScheme Scheme)> Of(
        params (bool Script, int Width, ColorScheme Scheme)[] usual
    ) => LongCounts.Asked ? All : usual;

    /// <summary>A page of its own, as this way sees it.</summary>
    public static async Task<IPage> PageAsync(this IBrowser browser, bool script, int width, ColorScheme scheme)
    {
        var context = await browser.NewContextAsync(
            new()
            {
                ViewportSize = new() { Width = width, Height = width < 1000 ? 844 : 900 },
                JavaScriptEnabled = script,
                ColorScheme = scheme,
                Locale = "en-GB",
            }
        );
        context.SetDefaultTimeout(Browsing.PatienceMs);
        return await context.NewPageAsync();
    }

    /// <summary>Nothing hangs over the edge; where script runs axe finds nothing (it is script itself).</summary>
    public static async Task LooksRightAsync(this IPage page, bool script)
    {
        Assert.False(
            await page.EvaluateAsync<bool>("document.documentElement.scrollWidth > innerWidth"),
            $"{page.Url} hangs over the edge"
        );
        if (script)
            await page.AxeFindsNothingAsync(page.Url);
    }
}
