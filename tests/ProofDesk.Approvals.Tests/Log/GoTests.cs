using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Tests.Log;

/// <summary>
/// Our leaves, roots, checkpoints and both kinds of proofs, judged by the note and tlog packages of another language. Go is 450 MB, so
/// tests/run installs it with PROOFDESK_LONG=1 only; without it these tests show as skipped by name.
/// </summary>
public sealed class GoTests
{
    private static readonly bool Long = Environment.GetEnvironmentVariable("PROOFDESK_LONG") == "1";

    [SkippableFact]
    public void Another_implementation_agrees_on_every_leaf_root_checkpoint_and_proof()
    {
        var size = Long ? 512 : 48;
        var data = Enumerable.Range(0, size).Select(Leaf).ToList();
        var tree = MerkleTree.Of(data.Select(d => MerkleTree.LeafHash(d)));
        var questions = data.Select(d => $"leaf {Text(d)} {Text(MerkleTree.LeafHash(d))}").ToList();
        for (var n = 1; n <= size; n++)
        {
            var root = Text(tree.Root(n));
            questions.Add(string.Create(CultureInfo.InvariantCulture, $"root {n} {root}"));
            questions.Add(
                Note(Checkpoint.Of(Samples.Origin, MerkleTree.Of(data.Take(n).Select(d => MerkleTree.LeafHash(d)))))
            );
            for (var i = 0; i < n; i++)
            {
                questions.Add(In(tree.Inclusion(i, n), n, root, i, MerkleTree.LeafHash(data[i])));
                questions.Add(Grown(tree.Consistency(i + 1, n), n, root, i + 1, tree.Root(i + 1)));
            }
        }

        var answers = Ask(questions);

        Assert.Equal(questions.Count, answers.Count);
        Assert.All(questions.Zip(answers), pair => Assert.Equal($"yes: {pair.First}", $"{pair.Second}: {pair.First}"));
    }

    [SkippableFact]
    public void Another_implementation_refuses_what_was_changed()
    {
        var data = Enumerable.Range(0, 21).Select(Leaf).ToList();
        var tree = MerkleTree.Of(data.Select(d => MerkleTree.LeafHash(d)));
        var head = Checkpoint.Of(Samples.Origin, tree);
        var stranger = new SigningKey(Samples.Origin, Samples.Bytes(32, 5)).Verifier;
        var root = Text(tree.Root());

        Assert.Equal(
            ["yes", "no", "no", "no", "yes", "no"],
            Ask([
                Note(head),
                Note(head).Replace(Samples.Key.Verifier.ToString(), stranger.ToString(), StringComparison.Ordinal),
                In(tree.Inclusion(12, 21), 21, root, 13, MerkleTree.LeafHash(data[12])),
                In(tree.Inclusion(12, 21), 21, root, 12, MerkleTree.LeafHash(data[11])),
                Grown(tree.Consistency(13, 21), 21, root, 13, tree.Root(13)),
                Grown(tree.Consistency(13, 21), 21, root, 13, tree.Root(12)),
            ])
        );
    }

    private static byte[] Leaf(int i) =>
        LogLeaf.Data((LeafType)(i % 4), Sha256Digest.Of(SHA256.HashData(BitConverter.GetBytes(i))));

    private static string Note(Checkpoint head) =>
        $"note {Text(Encoding.UTF8.GetBytes(head.Sign(Samples.Key)))} {Samples.Key.Verifier} {Text(Encoding.UTF8.GetBytes(head.Text))}";

    private static string In(IEnumerable<byte[]> path, int size, string root, int index, byte[] leaf) =>
        string.Create(CultureInfo.InvariantCulture, $"in {Joined(path)} {size} {root} {index} {Text(leaf)}");

    private static string Grown(IEnumerable<byte[]> proof, int size, string root, int oldSize, byte[] oldRoot) =>
        string.Create(CultureInfo.InvariantCulture, $"grown {Joined(proof)} {size} {root} {oldSize} {Text(oldRoot)}");

    private static string Joined(IEnumerable<byte[]> hashes) => Text([.. hashes.SelectMany(h => h)]);

    private static string Text(byte[] bytes) => Convert.ToBase64String(bytes);

    internal static List<string> Ask(IEnumerable<string> questions)
    {
        Skip.IfNot(
            Directory.Exists("/usr/share/gocode/src/golang.org/x/mod/sumdb/tlog"),
            "golang-golang-x-mod-dev is not installed"
        );
        Process? started = null;
        try
        {
            var start = new ProcessStartInfo(
                "go",
                ["run", Path.Combine(AppContext.BaseDirectory, "Log", "check_log.go")]
            )
            {
                RedirectStandardInput = true,
                RedirectStandardOutput = true,
                RedirectStandardError = true,
                UseShellExecute = false,
            };
            start.Environment["GO111MODULE"] = "off";
            start.Environment["GOPATH"] = "/usr/share/gocode";
            start.Environment["GOFLAGS"] = "";
            started = Process.Start(start);
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Skip.If(true, "go is not installed");
        }

        using var go = started!;
        var error = go.StandardError.ReadToEndAsync();
        var output = go.StandardOutput.ReadToEndAsync();
        foreach (var question in questions)
        {
            go.StandardInput.Write(question + "\n");
        }

        go.StandardInput.Close();
        go.WaitForExit();
        Assert.True(go.ExitCode == 0, $"go run ended with {go.ExitCode}: {error.Result}");
        return [.. output.Result.Split('\n', StringSplitOptions.RemoveEmptyEntries)];
    }
}
