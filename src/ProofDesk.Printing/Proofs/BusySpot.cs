using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Proofs;

/// <summary>The spot of a print that shows register best: where edges of the most screens come together.</summary>
internal static class BusySpot
{
    private const int SurveyPx = 240;

    /// <summary>Left and top edge of a square window, mm from the top left corner of the films.</summary>
    public static (double LeftMm, double TopMm) Find(
        ImmutableArray<Film> films,
        double pixelsPerMm,
        double windowMm,
        CancellationToken cancel
    )
    {
        if (films.Length == 0)
            return (0, 0);
        var edges = films.Select(f => EdgeSums(FilmPreview.Draw(f, SurveyPx, cancel))).ToArray();
        var box = Math.Max(1, (films[0].Width + SurveyPx - 1) / SurveyPx);
        var perMm = pixelsPerMm / box;
        var (width, height) = (edges[0].GetLength(1) - 1, edges[0].GetLength(0) - 1);
        var side = Math.Clamp((int)Math.Round(windowMm * perMm), 1, Math.Min(width, height));
        var (best, at) = (-1L, (X: 0, Y: 0));
        var found = new long[films.Length];
        for (var y = 0; y + side <= height; y++)
        for (var x = 0; x + side <= width; x++)
        {
            for (var k = 0; k < found.Length; k++)
                found[k] =
                    edges[k][y + side, x + side] - edges[k][y, x + side] - edges[k][y + side, x] + edges[k][y, x];
            Array.Sort(found);
            // What the second busiest has counts most: one screen alone shows no register.
            var score = found[^1] + (found.Length > 1 ? 8 * found[^2] : 0) + (found.Length > 2 ? 4 * found[^3] : 0);
            if (score > best)
                (best, at) = (score, (x, y));
        }
        return (at.X / perMm, at.Y / perMm);
    }

    /// <summary>Summed differences to the right and lower neighbour, as a summed-area table.</summary>
    private static long[,] EdgeSums(BytePlane film)
    {
        var sums = new long[film.Height + 1, film.Width + 1];
        for (var y = 0; y < film.Height; y++)
        {
            var row = film.Row(y);
            var below = film.Row(Math.Min(y + 1, film.Height - 1));
            var along = 0L;
            for (var x = 0; x < film.Width; x++)
            {
                along += Math.Abs(row[x] - row[Math.Min(x + 1, film.Width - 1)]) + Math.Abs(row[x] - below[x]);
                sums[y + 1, x + 1] = sums[y, x + 1] + along;
            }
        }
        return sums;
    }
}
