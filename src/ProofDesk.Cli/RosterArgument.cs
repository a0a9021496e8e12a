using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Rosters;

namespace ProofDesk.Cli;

/// <summary>--roster: a list of names and numbers from a file.</summary>
internal static class RosterArgument
{
    private const long LargestBytes = 1 << 20;

    /// <exception cref="UsageProblem">There is no such file, or no such ink.</exception>
    /// <exception cref="ProofRefused">The list is wrong; every mistake with file, line and field.</exception>
    public static Roster? Read(MakeArguments arguments)
    {
        if (arguments.Roster is not { } path)
            return arguments.RosterInk is null ? null : throw new UsageProblem("--roster-ink goes with --roster FILE");
        if (!File.Exists(path))
            throw new UsageProblem($"there is no file '{path}'");
        if (new FileInfo(path).Length > LargestBytes)
            throw new UsageProblem($"'{path}' is larger than {LargestBytes / 1024} kB; a list of names is not");
        Ink? ink = null;
        if (arguments.RosterInk is { } id)
            ink =
                InkLibrary.Find(id)
                ?? throw new UsageProblem($"no ink '{id}'{Nearest.Guess(id, InkLibrary.Default.Select(i => i.Id))}");
        var reading = RosterFile.Read(File.ReadAllBytes(path), Path.GetFileName(path));
        if (reading.Roster is null)
        {
            Directory.CreateDirectory(arguments.Out);
            throw new ProofRefused(reading.Findings);
        }
        return reading.Roster with
        {
            Notes = reading.Findings,
            Style = new() { Ink = ink },
        };
    }
}
