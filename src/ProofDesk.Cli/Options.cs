using System.Globalization;

namespace ProofDesk.Cli;

/// <summary>Options with a value each, and the words that stand alone.</summary>
internal sealed class Options
{
    private readonly Dictionary<string, string> _given = [];

    public List<string> Words { get; } = [];

    /// <exception cref="UsageProblem">An unknown option, one without a value or given twice, or too many words.</exception>
    public static Options Read(string[] args, string[] known, int mostWords)
    {
        var options = new Options();
        for (var i = 0; i < args.Length; i++)
        {
            var word = args[i];
            if (!word.StartsWith("--", StringComparison.Ordinal))
            {
                if (options.Words.Count == mostWords)
                    throw new UsageProblem($"'{word}' is not understood here");
                options.Words.Add(word);
                continue;
            }
            if (!known.Contains(word))
                throw new UsageProblem(
                    $"no option '{word}'{Nearest.Guess(word, known)}",
                    $"there are {string.Join(", ", known)}"
                );
            if (i + 1 == args.Length || args[i + 1].StartsWith("--", StringComparison.Ordinal))
                throw new UsageProblem($"{word} needs a value");
            if (!options._given.TryAdd(word, args[++i]))
                throw new UsageProblem($"{word} is given twice");
        }
        return options;
    }

    public string Needed(string name) => _given.GetValueOrDefault(name) ?? throw new UsageProblem($"{name} is missing");

    public string Value(string name, string usual) => _given.GetValueOrDefault(name, usual);

    public string[] List(string name, string usual) =>
        Value(name, usual).Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

    public double? Number(string name, double least, double most)
    {
        if (!_given.TryGetValue(name, out var text))
            return null;
        return
            double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value)
            && value >= least
            && value <= most
            ? value
            : throw new UsageProblem($"{name} is a number from {least:0.#} to {most:0.#}; '{text}' given");
    }
}
