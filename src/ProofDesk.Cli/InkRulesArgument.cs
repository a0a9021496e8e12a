using System.Collections.Immutable;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Cli;

/// <summary>--use-inks, --avoid-inks and --ink-order.</summary>
internal static class InkRulesArgument
{
    private const string Hint =
        "'proofdesk inks' lists the library's; the shop's own stand in a file, see docs/ink-files.md";

    /// <summary>The choice with the rules that were given.</summary>
    /// <exception cref="UsageProblem">No such ink.</exception>
    public static InkChoice Read(MakeArguments arguments, InkChoice inks, TextWriter error)
    {
        ImmutableArray<Ink> must = [.. arguments.UseInks.SelectMany(word => Inks("--use-inks", word, error))];
        var own = must.Concat(inks.Inks).Select(i => i.Id).ToHashSet();
        var rules = new InkRules(
            must,
            [.. arguments.AvoidInks.Select(word => Known("--avoid-inks", word, own))],
            [.. arguments.InkOrder.Select(word => Known("--ink-order", word, own))]
        );
        return rules.IsEmpty ? inks : inks with { Rules = rules };
    }

    private static ImmutableArray<Ink> Inks(string option, string word, TextWriter error)
    {
        var isFile =
            word.EndsWith(".json", StringComparison.OrdinalIgnoreCase)
            || word.EndsWith(".csv", StringComparison.OrdinalIgnoreCase);
        if (!isFile)
            return [InkLibrary.Find(word) ?? throw NoSuch(option, word)];
        var read = InkFile.Read(word, error);
        return read.ExactColours.IsEmpty
            ? read.Inks
            : throw new UsageProblem(
                $"{option} names inks, {word} lists the colour {read.ExactColours[0]}",
                "colours to mix go into the file of --inks"
            );
    }

    private static string Known(string option, string word, HashSet<string> own) =>
        own.Contains(word) || InkLibrary.Find(word) is not null ? word : throw NoSuch(option, word);

    private static UsageProblem NoSuch(string option, string word) =>
        new($"{option} names no ink '{word}'{Nearest.Guess(word, InkLibrary.Default.Select(i => i.Id))}", Hint);
}
