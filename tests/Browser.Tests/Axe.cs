using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace Browser.Tests;

/// <summary>
/// axe on a page as it stands. Deque's own runner opens a second page for every judgement and brings every node that passed to
/// this side, five times the time; no page of ours has frames, for which it does so.
/// </summary>
internal static class Axe
{
    private static readonly string Script = new BundledAxeScriptProvider().GetScript();

    /// <summary>Nothing found by the rules named, or by every rule axe switches on by itself when none is.</summary>
    public static async Task AxeFindsNothingAsync(this IPage page, string name, params string[] rules)
    {
        Assert.Equal(0, await page.Locator("iframe, frame").CountAsync());
        if (!await page.EvaluateAsync<bool>("'axe' in window"))
            await page.EvaluateAsync(Script);
        var found = await page.EvaluateAsync<string[]>(
            """
            async rules => {
              const only = rules.length ? { runOnly: { type: 'rule', values: rules } } : {};
              const { violations, passes } = await axe.run(document, { ...only, resultTypes: ['violations'] });
              if (!passes.length) return ['axe looked at nothing'];
              return violations.map(v => `${v.id} at ${v.nodes.map(n => n.html).join(', ')}`);
            }
            """,
            rules
        );
        Assert.True(found.Length == 0, $"{name}: {string.Join("; ", found)}");
    }
}
