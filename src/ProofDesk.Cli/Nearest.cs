namespace ProofDesk.Cli;

/// <summary>Guesses the word that was meant.</summary>
internal static class Nearest
{
    /// <summary>"; did you mean 'make'?" when one of the words is near, else nothing.</summary>
    public static string Guess(string word, IEnumerable<string> words)
    {
        var best = words
            .Select(w => (Word: w, Distance: Distance(word.ToLowerInvariant(), w)))
            .OrderBy(w => w.Distance)
            .ThenBy(w => w.Word, StringComparer.Ordinal)
            .FirstOrDefault();
        return best.Word is not null && best.Distance <= Math.Max(1, best.Word.Length / 3)
            ? $"; did you mean '{best.Word}'?"
            : "";
    }

    /// <summary>Levenshtein (1966): letters to insert, drop or replace.</summary>
    internal static int Distance(string a, string b)
    {
        var row = Enumerable.Range(0, b.Length + 1).ToArray();
        for (var i = 1; i <= a.Length; i++)
        {
            var diagonal = row[0];
            row[0] = i;
            for (var j = 1; j <= b.Length; j++)
            {
                var above = row[j];
                row[j] = Math.Min(Math.Min(row[j], row[j - 1]) + 1, diagonal + (a[i - 1] == b[j - 1] ? 0 : 1));
                diagonal = above;
            }
        }
        return row[^1];
    }
}
