using System.Globalization;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Cli;

/// <summary>
/// `proofdesk inks`: the library's inks, as --inks FILE may name them. `proofdesk inks --file FILE`: what a shop's own file gives.
/// </summary>
internal static class InksCommand
{
    private const string UsageText = "usage: proofdesk inks [--file FILE]";

    public static int Run(string[] args, TextWriter output, TextWriter error)
    {
        switch (args)
        {
            case []:
                foreach (var ink in InkLibrary.Default.Add(InkLibrary.BlockingBase).Add(InkLibrary.ClearBase))
                    output.WriteLine($"{ink.Id}  {ink.Name}: {KindName(ink.Kind)}; data class {ink.DataClass}");
                return CommandLine.Done;
            case ["--file", var path]:
                if (!File.Exists(path))
                    return CommandLine.Misunderstood(error, $"there is no file '{path}'", UsageText);
                return Show(path, output, error);
            case ["--file"]:
                return CommandLine.Misunderstood(error, "--file needs a value", UsageText);
            default:
                return CommandLine.Misunderstood(
                    error,
                    $"'inks' takes --file FILE or nothing, '{string.Join(' ', args)}' given",
                    UsageText
                );
        }
    }

    private static int Show(string path, TextWriter output, TextWriter error)
    {
        IReadOnlyList<InkFileEntry> entries;
        try
        {
            entries = InkFile.Entries(path);
        }
        catch (UsageProblem problem)
        {
            error.WriteLine(problem.Message);
            error.WriteLine($"hint: {problem.Hint}");
            return CommandLine.Refused;
        }
        var refused = false;
        foreach (var entry in entries)
        {
            if (entry.Definition is not { } own)
            {
                var known = entry.Word!.StartsWith('#') ? "a colour to mix" : InkLibrary.Find(entry.Word)?.Name;
                output.WriteLine($"{entry.Word}  {known ?? "no ink of the library is called so"}");
                refused |= known is null;
                continue;
            }
            var reading = own.Make(path);
            if (reading.Ink is { } ink)
                Write(own, ink, reading, output);
            foreach (var problem in reading.Problems)
                error.WriteLine(problem);
            refused |= reading.Ink is null;
        }
        return refused ? CommandLine.Refused : CommandLine.Done;
    }

    private static void Write(InkDefinition own, Ink ink, InkReading reading, TextWriter output)
    {
        var swatch = InkSwatch.Of(ink);
        output.WriteLine(
            $"{own.Id}  {ink.Name}: {KindName(ink.Kind)}; data class {ink.DataClass}; {Convention(ink.Convention)}"
        );
        output.WriteLine($"  source         {ink.Source}");
        output.WriteLine($"  masstone       Lab {Text(swatch.Masstone)}");
        output.WriteLine($"  on white tee   Lab {Text(swatch.OnWhite)}   one pass, mesh {Meshes.Spot(ink.Kind).Label}");
        output.WriteLine($"  on black tee   Lab {Text(swatch.OnBlack)}");
        if (ink.Target is { } target)
        {
            var (white, black) = InkSwatch.ToTarget(ink, target);
            output.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"  target         Lab {Text(target.Lab)} ({target.Light}), dE00 {white:0.0} on white, {black:0.0} on black, {target.ToleranceDe00:0.##} passes"
                )
            );
        }
        if (ink.Formula is { } formula)
            output.WriteLine(
                $"  formula, 1 kg  {string.Join(", ", formula.For(1000).Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.Name} {p.Grams:0.#} g")))}"
            );
        foreach (var warning in reading.Warnings)
            output.WriteLine($"  note           {warning}");
    }

    private static string Text(Lab lab) =>
        string.Create(CultureInfo.InvariantCulture, $"{lab.L, 5:0.0} {lab.A, 6:0.0} {lab.B, 6:0.0}");

    private static string Convention(OpticalConvention c) =>
        c == OpticalConvention.None
            ? "no surface correction"
            : string.Create(CultureInfo.InvariantCulture, $"surface k1 {c.K1}, k2 {c.K2}, ki {c.Ki}");

    private static string KindName(InkKind kind) =>
        kind switch
        {
            InkKind.Plastisol => "plastisol",
            InkKind.WaterBased => "water-based",
            InkKind.HighSolidsWaterBased => "water-based, high solids",
            InkKind.Sheet => "sheet",
            _ => kind.ToString().ToLowerInvariant(),
        };
}
