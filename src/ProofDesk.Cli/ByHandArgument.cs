using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations.ByHand;

namespace ProofDesk.Cli;

/// <summary>--by-hand and --write-by-hand: what is changed on the films, from a file and into one to begin with.</summary>
internal static class ByHandArgument
{
    private const long LargestBytes = 1 << 20;

    /// <exception cref="UsageProblem">There is no such file, or it is wrong: every mistake with file, line and plate.</exception>
    public static HandWork Read(MakeArguments arguments)
    {
        if (arguments.WriteByHand is { } blank && File.Exists(blank))
            throw new UsageProblem(
                $"'{blank}' is there already, --write-by-hand writes over nothing",
                "name another file, or move that one away"
            );
        if (arguments.ByHand is not { } path)
            return HandWork.None;
        if (!File.Exists(path))
            throw new UsageProblem($"there is no file '{path}'", "--write-by-hand FILE writes one to begin with");
        if (new FileInfo(path).Length > LargestBytes)
            throw new UsageProblem($"'{path}' is larger than {LargestBytes / 1024} kB; hand work is not");
        var (work, problems) = HandWorkText.Read(File.ReadAllText(path), Path.GetFileName(path));
        return problems.IsEmpty
            ? work
            : throw new UsageProblem(string.Join("\n", problems), "docs/light-table.md says what each number does");
    }

    /// <summary>Every plate of the proof, nothing changed.</summary>
    public static void WriteBlank(Proof proof, MakeArguments arguments, TextWriter output)
    {
        if (arguments.WriteByHand is not { } path)
            return;
        File.WriteAllText(path, HandWorkTemplate.Write(proof.Separation, proof.Request.Spot.WeakTones));
        output.WriteLine(path);
    }
}
