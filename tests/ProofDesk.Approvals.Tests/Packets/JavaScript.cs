using System.Diagnostics;
using System.Text;
using System.Text.Json;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Approvals.Tests.Packets;

/// <summary>What a verifier answered: verdict and every step, word for word.</summary>
internal sealed record Answer(int Exit, string Summary, IReadOnlyList<string> Steps)
{
    public static Answer Of(Verdict verdict) =>
        new(
            verdict.ExitCode,
            Text(verdict.Summary),
            [.. verdict.Steps.Select(s => Text($"{s.Code} {Word(s.Outcome)} {s.Text}"))]
        );

    public string Told => $"{Exit}\n{Summary}\n{string.Join('\n', Steps)}";

    private static string Word(StepOutcome outcome) =>
        outcome switch
        {
            StepOutcome.Passed => "ok",
            StepOutcome.Failed => "WRONG",
            _ => "unproven",
        };

    // A message may quote half a surrogate pair, which no pipe carries.
    private static string Text(string text) => Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(text));
}

/// <summary>A packet to check, as tests/Vectors/check.mjs reads it: bytes [From, From + Length) of a file.</summary>
internal sealed record Job(string File, long From, long Length, string Keys = "", string Trust = "", string Held = "");

/// <summary>The checks of verify.html, run by node without the page around them.</summary>
internal static class JavaScript
{
    private static readonly JsonSerializerOptions Web = new(JsonSerializerDefaults.Web);

    public static string Root
    {
        get
        {
            var folder = AppContext.BaseDirectory;
            while (!File.Exists(Path.Combine(folder, "ProofDesk.sln")))
            {
                folder =
                    Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("ProofDesk.sln not found");
            }

            return folder;
        }
    }

    public static string Vectors => Path.Combine(Root, "tests", "Vectors");

    public static IReadOnlyList<Answer> Check(IEnumerable<Job> jobs) =>
        [
            .. Run("check.mjs", jobs.Select(job => JsonSerializer.Serialize(job, Web)))
                .Select(line => JsonSerializer.Deserialize<Answer>(line, Web)!),
        ];

    /// <summary>Lines in, lines out.</summary>
    public static IReadOnlyList<string> Run(string script, IEnumerable<string> lines)
    {
        Skip.IfNot(
            Directory.Exists(Path.Combine(Root, "src", "ProofDesk.Web", "node_modules", "@noble")),
            "the JavaScript verifier needs its npm packages: build src/ProofDesk.Web first"
        );
        Process? started = null;
        try
        {
            started = Process.Start(
                new ProcessStartInfo("node", [Path.Combine(Vectors, script)])
                {
                    RedirectStandardInput = true,
                    RedirectStandardOutput = true,
                    RedirectStandardError = true,
                    UseShellExecute = false,
                }
            );
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Skip.If(true, "node is not installed");
        }

        using var node = started!;
        var error = node.StandardError.ReadToEndAsync();
        var output = node.StandardOutput.ReadToEndAsync();
        using (var input = new StreamWriter(node.StandardInput.BaseStream, new UTF8Encoding(false)))
        {
            foreach (var line in lines)
            {
                input.Write(line + "\n");
            }
        }

        node.WaitForExit();
        Assert.True(node.ExitCode == 0, $"node {script} ended with {node.ExitCode}: {error.Result}");
        return output.Result.Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }
}
