namespace ProofDesk.Printing.Separations;

/// <summary>Guesses the name that was meant.</summary>
public static class NearestName
{
    /// <summary>"; did you mean 'Red'?" when one of the names is near, else nothing.</summary>
    public static string Guess(string name, IEnumerable<string> names)
    {
        var best = names
            .Select(n => (Name: n, Distance: Distance(name.ToLowerInvariant(), n.ToLowerInvariant())))
            .OrderBy(n => n.Distance)
            .ThenBy(n => n.Name, StringComparer.Ordinal)
            .FirstOrDefault();
        return best.Name is not null && best.Distance <= Math.Max(1, best.Name.Length / 3)
            ? $"; did you mean '{best.Name}'?"
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
