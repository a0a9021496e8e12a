using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Separations.Difficult;
using ProofDesk.Printing.Separations.Inverse;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>What is drawn in painted art: thin lines and small type of its outline and of its flat colours.</summary>
internal static class DrawnChecks
{
    /// <summary>Art that stands flat to this share gains nothing from tones.</summary>
    private const double AllFlat = 0.97;
    private const int FewColours = 8;

    public static IEnumerable<Finding> Of(SizedArt art, TonalJob job, FlatArt flat)
    {
        var mesh = job.Plates[^1].Mesh;
        var drawings = flat.Colours.Select((c, i) => (What: $"the flat {c.Hex}", Plane: flat.Shares[i])).ToList();
        if (Outline(art.Pixels) is { } outline)
            drawings.Insert(0, ("the art", outline));
        // Lines that stand alone are the outline of the art as well: they are named once.
        var seen = new HashSet<double>();
        foreach (var (what, plane) in drawings)
        {
            if (
                FineLines.Of(plane, art.PixelsPerMm)?.On(what, mesh, art, job.Settings.LargestWidthMm) is { } thin
                && seen.Add(thin.Measured ?? 0)
            )
                yield return thin;
            if (SmallType.Of(plane, art.PixelsPerMm, what) is { } small && seen.Add(100 + (small.Measured ?? 0)))
                yield return small;
        }
        if (!flat.IsEmpty && AllIsFlat(art, flat, out var share))
            yield return new(
                "flat-art",
                FindingWeight.Note,
                Text(
                    $"{100 * share:0} % of the art stands flat in {flat.Colours.Length} {(flat.Colours.Length == 1 ? "colour" : "colours")}: there is nothing to paint, and a spot method prints it without dots and with no more screens than colours and a base"
                ),
                "print it with plastisol or another spot method",
                Math.Round(100 * share),
                100 * AllFlat,
                "%"
            );
    }

    /// <summary>The transparency of the art; null where it has none.</summary>
    private static BytePlane? Outline(RgbaRaster art)
    {
        var outline = new BytePlane(art.Width, art.Height);
        RowLoop.Run(
            art.Height,
            art.Width,
            y =>
            {
                var from = art.Row(y);
                var to = outline.Row(y);
                for (var x = 0; x < to.Length; x++)
                    to[x] = (byte)(from[4 * x + 3] >> 8);
            }
        );
        return outline.Pixels.AsSpan().ContainsAnyExcept((byte)255) ? outline : null;
    }

    private static bool AllIsFlat(SizedArt art, FlatArt flat, out double share)
    {
        var (inked, stands) = (0L, 0L);
        for (var i = 3; i < art.Pixels.Pixels.Length; i += 4)
            inked += art.Pixels.Pixels[i] >> 8;
        foreach (var plane in flat.Shares)
            stands += Sum(plane);
        share = inked == 0 ? 0 : Math.Min(1, stands / (double)inked);
        return share >= AllFlat && flat.Colours.Length <= FewColours;
    }

    private static long Sum(BytePlane plane)
    {
        var sum = 0L;
        foreach (var value in plane.Pixels)
            sum += value;
        return sum;
    }
}
