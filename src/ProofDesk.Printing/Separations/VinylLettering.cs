using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Guesses lettering from pieces: three or more of about the same height that stand side by side on one line. A guess
/// for a warning; nothing is done with it.
/// </summary>
internal static class VinylLettering
{
    /// <summary>Letters are about as high as each other: accents, rounds and descenders within this share.</summary>
    private const double SameHeight = 0.25;

    /// <summary>The smallest row of letters lower than the limit, or null; its box.</summary>
    public static Island? Smallest(IReadOnlyCollection<Island> pieces, double belowPx)
    {
        Island? smallest = null;
        var letters = pieces.Where(p => p.Height < belowPx && p.Width < 3 * p.Height && p.Height < 6 * p.Width);
        var line = new List<Island>();
        foreach (
            var letter in letters
                .OrderBy(p => (int)(p.Bottom / Math.Max(1, belowPx / 4)))
                .ThenBy(p => p.Left)
                .Append(default)
        )
        {
            if (line.Count > 0 && letter.Area > 0 && Follows(line[^1], letter))
            {
                line.Add(letter);
                continue;
            }
            if (line.Count >= 3)
            {
                var height = line.Max(p => p.Height);
                if (smallest is not { } known || height < known.Height)
                    smallest = new(0, line[0].Left, line[0].Bottom - height + 1, line[^1].Right, line[0].Bottom, false);
            }
            line = letter.Area > 0 ? [letter] : [];
        }
        return smallest;
    }

    private static bool Follows(Island a, Island b) =>
        Math.Abs(a.Bottom - b.Bottom) <= SameHeight * a.Height
        && Math.Abs(a.Height - b.Height) <= SameHeight * a.Height
        && b.Left > a.Left
        && b.Left - a.Right < 2 * a.Height;
}
