using System.Diagnostics;
using Microsoft.Playwright;
using ProofDesk.Judges;

namespace Browser.Tests;

/// <summary>
/// The client's whole way in a second engine, with and without script, at three widths, in both themes, axe beside it. Debian has no driver for Firefox; WebDriver BiDi, which
/// Firefox speaks itself, needs none. With PROOFDESK_LONG=1 where firefox-esr is installed.
/// </summary>
public sealed class FirefoxTests(CrestServer server) : IClassFixture<CrestServer>
{
    public static TheoryData<string, int, string> AllWays()
    {
        var ways = new TheoryData<string, int, string>();
        foreach (var (script, width, scheme) in Ways.All)
            ways.Add(script ? "script" : "plain", width, scheme == ColorScheme.Dark ? "dark" : "light");
        return ways;
    }

    [SkippableTheory]
    [MemberData(nameof(AllWays))]
    public async Task A_client_approves_in_Firefox(string mode, int width, string scheme)
    {
        Skip.IfNot(LongCounts.Asked && File.Exists("/usr/bin/firefox-esr"), "PROOFDESK_LONG=1 and firefox-esr");
        var driver = Path.Combine(QuickPrograms.Root(), "tests", "Browser.Tests", "Firefox");
        if (!Directory.Exists(Path.Combine(driver, "node_modules")))
            await RunAsync("npm", driver, "ci", "--silent", "--no-audit", "--no-fund");
        var version = await server.RenderedVersionAsync($"Firefox {mode} {width} {scheme}");
        var link = await server.SentLinkAsync(version);

        var said = await RunAsync(
            "node",
            driver,
            "approve.mjs",
            new Uri(server.Address, link).ToString(),
            mode,
            $"{width}",
            scheme
        );

        Assert.Equal(
            $"Firefox {mode} {width} {scheme}\nlook, {scheme}: fits\napprove, {scheme}: fits\nlast look, {scheme}: fits\nreceipt, {scheme}: fits\nApproved. Thank you.\n",
            said
        );
    }

    private static async Task<string> RunAsync(string program, string folder, params string[] arguments)
    {
        using var process = Process.Start(
            new ProcessStartInfo(program, arguments)
            {
                WorkingDirectory = folder,
                UseShellExecute = false,
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            }
        )!;
        var errors = process.StandardError.ReadToEndAsync();
        var said = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(process.ExitCode == 0, $"{program}: {said}{await errors}");
        return said;
    }
}
