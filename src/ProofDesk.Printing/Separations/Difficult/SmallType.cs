using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.Difficult;

/// <summary>
/// Small lettering: many little islands standing in rows. Their height is taken for the height of small letters, 0.52 of
/// the type size (usual for book faces).
/// </summary>
internal static class SmallType
{
    /// <summary>Type from this size on reads on a shirt (common practice).</summary>
    private const double LeastPoints = 8;

    private const double SmallLetter = 0.52;
    private const double MmPerPoint = 25.4 / 72;

    private const double LeastMm = 0.35;
    private const int LeastLetters = 12;

    /// <summary>What to say of lettering in a drawing; null when there is none, or it is large enough.</summary>
    public static Finding? Of(BytePlane drawing, double pixelsPerMm, string what)
    {
        var most = LeastPoints * MmPerPoint * SmallLetter;
        var letters = Islands
            .Find(drawing)
            .All.Select(i =>
                (
                    X: i.Left / pixelsPerMm,
                    Y: i.Bottom / pixelsPerMm,
                    W: i.Width / pixelsPerMm,
                    H: i.Height / pixelsPerMm
                )
            )
            .Where(i => i.H >= LeastMm && i.H < 1.5 * most && i.W < 2 * i.H && i.W > 0.1 * i.H)
            .OrderBy(i => i.X)
            .ToArray();
        if (letters.Length < LeastLetters)
            return null;
        // Letters of one line share their foot and follow each other closely.
        var inRows = letters
            .GroupBy(l => Math.Round(l.Y / 0.4))
            .SelectMany(row =>
            {
                var line = row.ToArray();
                return line.Where(
                    (l, i) =>
                        i > 0 && l.X - line[i - 1].X < 2.5 * l.H
                        || i + 1 < line.Length && line[i + 1].X - l.X < 2.5 * l.H
                );
            })
            .ToArray();
        if (inRows.Length < LeastLetters)
            return null;
        // The line of most letters stands for the rest.
        var shown = inRows.GroupBy(l => Math.Round(l.Y / 0.4)).MaxBy(row => row.Count())!;
        var heights = inRows.Select(l => l.H).Order().ToArray();
        var height = heights[heights.Length / 2];
        var points = height / SmallLetter / MmPerPoint;
        if (points >= LeastPoints - 0.5)
            return null;
        return new(
            "small-type",
            FindingWeight.Warning,
            Text(
                $"{what} has about {inRows.Length} letters of {height:0.0} mm, type of about {points:0.0} pt: {LeastPoints:0} pt reads surely on cloth, 10 pt where it is left open"
            ),
            Text(
                $"set it in {LeastPoints:0} pt or more, place the print {LeastPoints / points:0.0} times as wide, or leave it out"
            ),
            Math.Round(points, 1),
            LeastPoints,
            "pt"
        )
        {
            Spot = new(
                Math.Round(shown.Min(l => l.X), 2),
                Math.Round(shown.Min(l => l.Y - l.H), 2),
                Math.Round(shown.Max(l => l.X + l.W) - shown.Min(l => l.X), 2),
                Math.Round(shown.Max(l => l.Y) - shown.Min(l => l.Y - l.H), 2)
            ),
        };
    }
}
