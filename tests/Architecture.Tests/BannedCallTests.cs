using System.Diagnostics;

namespace Architecture.Tests;

public sealed class BannedCallTests
{
    /// <summary>Builds a tiny project that breaks the list of banned calls on purpose, under the same rules as the pure projects.</summary>
    [Fact]
    public void Twin_a_banned_call_in_a_pure_project_fails_the_build()
    {
        var folder = Path.Combine(House.Root, "artifacts", "banned-twin");
        Directory.CreateDirectory(folder);
        File.WriteAllText(
            Path.Combine(folder, "BannedTwin.csproj"),
            """<Project Sdk="Microsoft.NET.Sdk"><Import Project="../../src/PureProject.props" /></Project>"""
        );
        File.WriteAllText(
            Path.Combine(folder, "Twin.cs"),
            "namespace Banned;\n\npublic static class Twin\n{\n    public static long Now() => System.DateTimeOffset.UtcNow.Ticks;\n}\n"
        );

        var (code, output) = Run("build", folder, "-v", "quiet", "--nologo", "-nodeReuse:false");

        Assert.NotEqual(0, code);
        Assert.Contains("RS0030", output, StringComparison.Ordinal);
        Assert.Contains("times arrive as values", output, StringComparison.Ordinal);
    }

    private static (int Code, string Output) Run(params string[] arguments)
    {
        using var process = Process.Start(
            new ProcessStartInfo("dotnet", arguments)
            {
                UseShellExecute = false,
                RedirectStandardOutput = true,
                RedirectStandardError = true,
            }
        )!;
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        process.WaitForExit();
        return (process.ExitCode, output.Result + error.Result);
    }
}
