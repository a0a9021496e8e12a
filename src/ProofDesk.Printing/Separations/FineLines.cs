using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations;

/// <summary>Lines of a drawing that are thinner than prints surely.</summary>
/// <param name="WidthMm">Width of the thinnest: the lower twentieth.</param>
/// <param name="LengthMm">Length of all that are too thin.</param>
internal sealed record FineLines(double WidthMm, double LengthMm)
{
    /// <summary>Where the thinnest is.</summary>
    public FindingSpot? Spot { get; init; }

    /// <summary>Lines from here on print on every mesh of the default table up to 61-64 (common practice: .25 to .35).</summary>
    public const double SureMm = 0.25;

    /// <summary>What a print head lays surely, dark on cloth ([PHYSICS] 3.3, from memory).</summary>
    private const double JetSureMm = 0.2;

    /// <summary>The thinnest lines, when there are 2 mm of them; null otherwise.</summary>
    public static FineLines? Of(BytePlane drawing, double pixelsPerMm)
    {
        var limit = SureMm / 2 * pixelsPerMm;
        var strokes = Strokes.Lines(
            Strokes.Find(drawing, EdgeDistance.Of(drawing, limit + 1), limit, 0.2),
            Math.Max(4, pixelsPerMm)
        );
        strokes.RemoveAll(s => s.HalfWidth >= limit);
        var length = strokes.Sum(s => s.LengthPx);
        if (length < 2 * pixelsPerMm)
            return null;
        var thinner = 0.0;
        var thinnest = strokes.OrderBy(s => s.HalfWidth).First(s => (thinner += s.LengthPx) >= length / 20);
        var (left, top, right, bottom) = thinnest.Box;
        return new(2 * thinnest.HalfWidth / pixelsPerMm, length / pixelsPerMm)
        {
            Spot = FindingSpot.OfPixels(left, top, right, bottom, pixelsPerMm),
        };
    }

    /// <summary>What to say of a plate whose lines are so thin; null when its mesh holds them and they print surely.</summary>
    public Finding? On(string what, Mesh mesh, SizedArt art, double largestWidthMm)
    {
        var limit = mesh.IsNone ? JetSureMm : Math.Max(SureMm, mesh.SafeFeatureUm / 1000);
        if (WidthMm >= limit)
            return null;
        var holding = Meshes.Default.FirstOrDefault(m => m.SafeFeatureUm <= WidthMm * 1000);
        var finest = Meshes.Default.MinBy(m => m.SafeFeatureUm)!;
        var wider = Math.Ceiling(art.WidthMm * limit / Math.Max(WidthMm, 0.01));
        var pixels = art.Artwork.Source.IsVector
            ? ""
            : Text($", {Math.Ceiling(limit * art.PixelsPerMm):0} px of this art");
        var next =
            Text($"draw them {limit:0.00} mm wide or wider{pixels}")
            + (wider <= largestWidthMm ? Text($", or place the print {wider:0} mm wide or wider") : "");
        if (mesh.IsNone)
            return new(
                "thin-lines",
                FindingWeight.Warning,
                Text(
                    $"the thinnest lines of {what} are {WidthMm:0.00} mm wide, a jet lays {limit:0.00} mm surely; {LengthMm:0} mm of lines are thinner than {SureMm:0.00} mm"
                ),
                next,
                Math.Round(WidthMm, 2),
                limit,
                "mm"
            )
            {
                Spot = Spot,
            };
        var holds =
            holding is null ? Text($"no mesh holds less than {finest.SafeFeatureUm / 1000:0.00} mm ({finest.Label})")
            : holding.SafeFeatureUm >= mesh.SafeFeatureUm ? "at best it holds them"
            : $"at best a {holding.Label} mesh holds them";
        return new(
            "thin-lines",
            FindingWeight.Warning,
            Text(
                $"the thinnest lines of {what} are {WidthMm:0.00} mm wide, {limit:0.00} mm prints surely on a {mesh.Label} mesh: {holds}; {LengthMm:0} mm of lines are too thin"
            ),
            next,
            Math.Round(WidthMm, 2),
            Math.Round(limit, 2),
            "mm"
        )
        {
            Spot = Spot,
        };
    }
}
