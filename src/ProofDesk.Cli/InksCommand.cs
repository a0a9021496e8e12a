using ProofDesk.Printing.Inks;

namespace ProofDesk.Cli;

/// <summary>`proofdesk inks`: the library's inks, as --inks FILE may name them.</summary>
internal static class InksCommand
{
    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        if (!CommandLine.TakesNothing("inks", args, error))
            return CommandLine.Usage;
        foreach (var ink in InkLibrary.Default.Add(InkLibrary.BlockingBase).Add(InkLibrary.ClearBase))
            output.WriteLine($"{ink.Id}  {ink.Name}: {Kind(ink.Kind)}; data class {ink.DataClass}");
        return CommandLine.Done;
    }

    private static string Kind(InkKind kind) =>
        kind switch
        {
            InkKind.Plastisol => "plastisol",
            InkKind.WaterBased => "water-based",
            InkKind.HighSolidsWaterBased => "water-based, high solids",
            InkKind.Sheet => "sheet",
            _ => kind.ToString().ToLowerInvariant(),
        };
}
