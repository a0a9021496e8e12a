using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;
using ProofDesk.Approvals.Packets;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Cli;

/// <summary>`proofdesk verify PACKET.zip`: the steps as lines, the verdict as the last line and as the exit code.</summary>
internal static class VerifyCommand
{
    public const string TrustFileName = "proofdesk.trust";

    /// <summary>Exit codes of this verb are its verdicts, so a wrong call is "unreadable": nothing was checked.</summary>
    private const int Unreadable = 3;

    private const string Usage = """
        usage: proofdesk verify PACKET.zip [--key KEY]... [--trust FILE] [--checkpoint FILE] [--rerender]
          --key KEY          the shop's log key, from a receipt mail or the shop's site (NAME+ID+BASE64); may be repeated
          --trust FILE       a file with such keys, a line each, '#' starts a comment, 'KEY until SIZE' ends a revoked key;
                             without it proofdesk.trust is looked for beside the packet, here and in ./data; 'none' looks nowhere
          --checkpoint FILE  the checkpoint or the .tlog-proof of your receipt
          --rerender         then makes plates and pictures again from the art and the recipe in the packet, and compares every byte
        exit code: 0 valid, 1 not valid, 2 valid in itself but not anchored outside, 3 unreadable, or it cannot be made again,
        4 the packet holds, but what is made again differs
        """;

    public static async Task<int> RunAsync(string[] args, TextWriter output, TextWriter error, CancellationToken cancel)
    {
        if (args is ["--help"] or ["-h"])
        {
            output.WriteLine(Usage);
            return 0;
        }

        try
        {
            return await VerifyAsync(Arguments.Read(args), output, cancel);
        }
        catch (RecordFormatException e)
        {
            error.WriteLine(e.Message);
        }
        catch (RecipeProblem e)
        {
            error.WriteLine($"cannot be made again: {e.Message}");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            error.WriteLine($"cannot read: {Lower(e.Message)}");
        }

        return Unreadable;
    }

    private static async Task<int> VerifyAsync(Arguments arguments, TextWriter output, CancellationToken cancel)
    {
        var (trustFile, trusted) = Trust(arguments);
        var held = arguments.Checkpoint is null ? null : await File.ReadAllTextAsync(arguments.Checkpoint, cancel);
        await using var packet = File.OpenRead(arguments.Packet);
        if (trustFile is not null)
        {
            output.WriteLine(
                string.Create(CultureInfo.InvariantCulture, $"trust    {trusted.Length} keys from {trustFile}")
            );
        }

        var verdict = PacketVerifier.Verify(packet, new VerifyOptions(arguments.Keys, trusted, held));
        foreach (var step in verdict.Steps)
        {
            output.WriteLine($"{Mark(step.Outcome)} {step.Text}");
        }

        output.WriteLine(verdict.Summary);
        if (!arguments.Rerender)
        {
            return verdict.ExitCode;
        }
        if (verdict.Kind is VerdictKind.NotValid or VerdictKind.Unreadable)
        {
            output.WriteLine("not made again: the packet itself does not hold");
            return verdict.ExitCode;
        }
        return await RerenderCommand.RunAsync(packet, verdict.Manifest!, output, cancel)
            ? verdict.ExitCode
            : RerenderCommand.Different;
    }

    private static string Mark(StepOutcome outcome) =>
        outcome switch
        {
            StepOutcome.Passed => "ok      ",
            StepOutcome.Failed => "WRONG   ",
            _ => "unproven",
        };

    private static (string? File, ImmutableArray<TrustedKey> Keys) Trust(Arguments arguments)
    {
        if (arguments.Trust is "none")
        {
            return (null, []);
        }

        var beside = Path.GetDirectoryName(Path.GetFullPath(arguments.Packet)) ?? ".";
        string[] places = [Path.Combine(beside, TrustFileName), TrustFileName, Path.Combine("data", TrustFileName)];
        var file = arguments.Trust ?? Array.Find(places, File.Exists);
        return file is null ? (null, []) : (file, TrustFile.Parse(File.ReadAllText(file), file));
    }

    private static string Lower(string message) => char.ToLowerInvariant(message[0]) + message[1..].TrimEnd('.');

    private sealed record Arguments(
        string Packet,
        ImmutableArray<VerifierKey> Keys,
        string? Trust,
        string? Checkpoint,
        bool Rerender
    )
    {
        public static Arguments Read(string[] args)
        {
            string? packet = null;
            string? trust = null;
            string? checkpoint = null;
            var rerender = false;
            var keys = ImmutableArray.CreateBuilder<VerifierKey>();
            for (var i = 0; i < args.Length; i++)
            {
                switch (args[i])
                {
                    case "--key":
                        keys.Add(VerifierKey.Parse(Value(args, ref i)));
                        break;
                    case "--trust":
                        trust = Value(args, ref i);
                        break;
                    case "--checkpoint":
                        checkpoint = Value(args, ref i);
                        break;
                    case "--rerender":
                        rerender = true;
                        break;
                    case ['-', ..] unknown:
                        throw new RecordFormatException($"'{unknown}' is not an option of verify\n{Usage}");
                    default:
                        packet = packet is null
                            ? args[i]
                            : throw new RecordFormatException(
                                $"one packet at a time: got '{packet}' and '{args[i]}'\n{Usage}"
                            );
                        break;
                }
            }

            return new(
                packet ?? throw new RecordFormatException($"which packet?\n{Usage}"),
                keys.ToImmutable(),
                trust,
                checkpoint,
                rerender
            );
        }

        private static string Value(string[] args, ref int i) =>
            i + 1 < args.Length ? args[++i] : throw new RecordFormatException($"{args[i]} needs a value\n{Usage}");
    }
}
