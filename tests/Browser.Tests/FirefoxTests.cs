using System.Diagnostics;
using ProofDesk.Judges;

namespace Browser.Tests;

/// <summary>
/// The client's whole way in a second engine, with and without script. Debian has no driver for Firefox; WebDriver BiDi, which
/// Firefox speaks itself, needs none. With PROOFDESK_LONG=1 where firefox-esr is installed.
/// </summary>
public sealed class FirefoxTests(CrestServer server) : IClassFixture<CrestServer>
{
    [SkippableTheory]
    [InlineData("script", 390)]
    [InlineData("plain", 320)]
    public async Task A_client_approves_in_Firefox(string mode, int width)
    {
        Skip.IfNot(LongCounts.Asked && File.Exists("/usr/bin/firefox-esr"), "PROOFDESK_LONG=1 and firefox-esr");
        var driver = Path.Combine(QuickPrograms.Root(), "tests", "Browser.Tests", "Firefox");
        if (!Directory.Exists(Path.Combine(driver, "node_modules")))
            await RunAsync("npm", driver, "ci", "--silent", "--no-audit", "--no-fund");
        var version = await server.RenderedVersionAsync($"Firefox {mode}");
        var link = await server.SentLinkAsync(version);

        var said = await RunAsync(
            "node",
            driver,
            "approve.mjs",
            new Uri(server.Address, link).ToString(),
            mode,
            $"{width}"
        );

        Assert.Equal(
            $"Firefox {mode}\nlook: fits\napprove: fits\nlast look: fits\nreceipt: fits\nApproved. Thank you.\n",
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
