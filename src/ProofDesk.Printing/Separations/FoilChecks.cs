using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations;

/// <summary>What foil does not hold: lines and gaps, measured in the art with length and place, and how many foils are pressed.</summary>
internal static class FoilChecks
{
    /// <summary>Thinner lines break, thinner gaps fill with foil ([PHYSICS] 1.11, common practice).</summary>
    public const double LeastMm = 0.5;

    /// <summary>So much of a line makes it worth saying; tips of corners are shorter.</summary>
    private const double LeastLengthMm = 2;

    public static IEnumerable<Finding> Features(Plate plate, double pixelsPerMm)
    {
        if (plate.Shape is not { } shape)
            yield break;
        if (Thin(shape, pixelsPerMm) is { } lines)
            yield return Of(
                "foil-lines-too-thin",
                lines,
                $"of \"{plate.Name}\" are lines thinner than {LeastMm} mm",
                "foil breaks there",
                "thicken them, place the print larger, or print them as metallic ink"
            );
        if (Thin(Negative(shape, pixelsPerMm, out var border), pixelsPerMm, border) is { } gaps)
            yield return Of(
                "foil-gaps-too-thin",
                gaps,
                $"of \"{plate.Name}\" are gaps thinner than {LeastMm} mm",
                "foil fills them",
                "open them, or place the print larger"
            );
    }

    public static IEnumerable<Finding> Runs(Separation separation)
    {
        var foils = separation.Plates.Select(p => p.Ink.Id).Distinct().Count();
        if (foils > 1)
            yield return new(
                "several-foils",
                FindingWeight.Warning,
                $"the art takes {foils} foils: each is printed and pressed on its own, and a later foil also sticks to earlier adhesive that is not covered",
                "use one foil and print the other colours, or choose one with --inks",
                foils,
                1,
                "foils"
            );
        if (foils > 0)
            yield return new(
                "foil-wears",
                FindingWeight.Note,
                "foil mirrors more than any ink and wears sooner: it loses flakes with each wash, first at edges and where the cloth stretches",
                "say so to the client, or print metallic ink, which is duller and outlives it"
            );
    }

    private sealed record ThinFeatures(double LengthMm, double ThinnestMm, double XMm, double YMm);

    private static Finding Of(string code, ThinFeatures thin, string what, string then, string next) =>
        new(
            code,
            FindingWeight.Warning,
            Text(
                $"{thin.LengthMm:0} mm {what}, the thinnest {thin.ThinnestMm:0.00} mm at {thin.XMm:0} mm from the left and {thin.YMm:0} mm from the top: {then}"
            ),
            next,
            Math.Round(thin.ThinnestMm, 2),
            LeastMm,
            "mm"
        );

    private static ThinFeatures? Thin(BytePlane drawing, double pixelsPerMm, int border = 0)
    {
        var limit = LeastMm / 2 * pixelsPerMm;
        var distance = EdgeDistance.Of(drawing, limit + 2);
        // A twentieth of a millimetre is within the art's own resolution.
        var thin = Strokes
            .Long(Strokes.Find(drawing, distance, limit, 0.2), Math.Max(4, pixelsPerMm))
            .Select(at => (At: at, Middle: Across(drawing, distance, at)))
            .Where(s => s.Middle.WidthPx < (LeastMm - 0.05) * pixelsPerMm)
            .OrderBy(s => s.Middle.WidthPx)
            .ToArray();
        var length = thin.Sum(s => s.Middle.Share) / pixelsPerMm;
        if (length < LeastLengthMm)
            return null;
        // The lower twentieth, so that one odd pixel does not speak for a line.
        var (at, middle) = thin[thin.Length / 20];
        return new(
            length,
            middle.WidthPx / pixelsPerMm,
            (at.X - border + 0.5) / pixelsPerMm,
            (at.Y - border + 0.5) / pixelsPerMm
        );
    }

    /// <summary>
    /// Width of a stroke at a point of its middle, and how much of the stroke's length the point stands for: a stroke an even number of
    /// pixels wide has its middle between two rows of them.
    /// </summary>
    private static (double WidthPx, double Share) Across(BytePlane drawing, EdgeDistance distance, StrokePoint at)
    {
        double Inside(int x, int y) =>
            x < 0 || y < 0 || x >= drawing.Width || y >= drawing.Height ? -0.5
            : drawing[x, y] >= 128 ? distance[x, y]
            : -distance[x, y];
        var (left, right) = (Inside(at.X - 1, at.Y), Inside(at.X + 1, at.Y));
        var (up, down) = (Inside(at.X, at.Y - 1), Inside(at.X, at.Y + 1));
        var (a, b) = left + right < up + down ? (left, right) : (up, down);
        // To the near edge, to the far one from the neighbour beyond the middle, and the step between them.
        var (most, least) = (Math.Max(a, b), Math.Min(a, b));
        return (2 * at.HalfWidth + most - least, at.HalfWidth - most < 0.25 ? 0.5 : 1);
    }

    /// <summary>The drawing's ground, with so much of it around that its outer rim is no gap.</summary>
    private static BytePlane Negative(BytePlane drawing, double pixelsPerMm, out int border)
    {
        border = (int)Math.Ceiling(LeastMm * pixelsPerMm) + 2;
        var negative = new BytePlane(drawing.Width + 2 * border, drawing.Height + 2 * border);
        negative.Pixels.AsSpan().Fill(255);
        for (var y = 0; y < drawing.Height; y++)
        {
            var from = drawing.Row(y);
            var to = negative.Row(y + border).Slice(border, drawing.Width);
            for (var x = 0; x < from.Length; x++)
                to[x] = (byte)(255 - from[x]);
        }
        return negative;
    }
}
