using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations;

/// <summary>What a knife, a weeder and a hand cannot do, measured on the sheets and said with its place.</summary>
internal static class VinylChecks
{
    /// <summary>Strokes ([PHYSICS] 3.3, garment practice).</summary>
    public const double LeastStrokeMm = 1;

    /// <summary>Pieces ([PHYSICS] 3.3, sign practice).</summary>
    public const double LeastPieceMm = 2;

    /// <summary>Capitals ([PHYSICS] 3.3, garment practice).</summary>
    public const double LeastCapitalMm = 6;

    public static IEnumerable<Finding> Settings(SpotSettings settings)
    {
        if (settings.Inks.ExactColours.Length > 0)
            yield return new(
                "sheet-not-mixed",
                FindingWeight.Refusal,
                $"a sheet cannot be mixed to {settings.Inks.ExactColours[0]}: sheets come in the colours they come in",
                "list sheets by name, choose from: "
                    + string.Join(", ", InkLibrary.OfKind(InkKind.Sheet).Select(i => i.Id))
            );
        if (settings.Base == BaseChoice.White)
            yield return new(
                "base-not-needed",
                FindingWeight.Note,
                "a white base was asked for; a sheet hides the cloth by itself, so none is cut",
                "nothing"
            );
        if (settings.Base == BaseChoice.Discharge)
            yield return new(
                "base-not-of-this-method",
                FindingWeight.Refusal,
                "a discharge base is not part of vinyl: nothing is printed under a sheet",
                "choose base auto or none"
            );
    }

    /// <summary>A photograph warns a screen printer and stops a cutter; nothing printed below brings a sheet nearer to the art.</summary>
    public static Finding ForSheets(Finding finding) =>
        finding.Code == "many-colours"
            ? finding with
            {
                Weight = FindingWeight.Refusal,
                Message =
                    $"the art has {finding.Limit:0} colours or more: it may be a photograph, which cannot be cut from sheets",
                NextStep = "set the number of colours, redraw it in solid colours, or print it with another method",
            }
        : finding.Code == "far-from-art"
            ? finding with
            {
                NextStep = "choose a nearer sheet, or show the client the proof and say so",
            }
        : finding;

    public static IEnumerable<Finding> Of(VinylLayers layers, double pixelsPerMm)
    {
        for (var i = 0; i < layers.Plates.Length; i++)
            foreach (var finding in Layer(layers, i, pixelsPerMm))
                yield return finding;
        var um = layers.Thickest * layers.Plates.Max(p => p.Ink.SheetUm);
        if (layers.Thickest > 1)
            yield return new(
                "sheets-stacked",
                FindingWeight.Note,
                Text($"up to {layers.Thickest} sheets lie on each other, {um:0} um at the thickest"),
                "nothing, or use fewer colours where the garment has to stay soft",
                layers.Thickest,
                VinylLayers.MostLayers,
                "sheets"
            );
    }

    private static IEnumerable<Finding> Layer(VinylLayers layers, int layer, double perMm)
    {
        var plate = layers.Plates[layer];
        var shape = plate.Shape!;
        if (layers.LeftOut[layer] > 0)
            yield return new(
                "pieces-left-out",
                FindingWeight.Warning,
                Text(
                    $"{Count(layers.LeftOut[layer], "piece")} of \"{plate.Name}\" smaller than {VinylLayers.LeastPieceMm:0} mm cannot be cut and {Are(layers.LeftOut[layer])} left out"
                ),
                "draw them larger, or place the print larger",
                layers.LeftOut[layer],
                0,
                "pieces"
            );
        if (layers.Closed[layer] > 0)
            yield return new(
                "holes-closed",
                FindingWeight.Warning,
                Text(
                    $"{Count(layers.Closed[layer], "hole")} of \"{plate.Name}\" smaller than {VinylLayers.LeastPieceMm:0} mm cannot be weeded and {Are(layers.Closed[layer])} closed"
                ),
                "open them up, or place the print larger",
                layers.Closed[layer],
                0,
                "holes"
            );
        if (Thinnest(shape, perMm) is { } thin)
            yield return new(
                "strokes-too-thin",
                FindingWeight.Warning,
                Text(
                    $"strokes of \"{plate.Name}\" are {thin.Mm:0.0} mm wide {At(thin.X, thin.Y, perMm)}, {LeastStrokeMm:0} mm can be weeded and holds on a garment"
                ),
                "thicken them, or place the print larger",
                Math.Round(thin.Mm, 2),
                LeastStrokeMm,
                "mm"
            )
            {
                Spot = FindingSpot.Around(thin.X / perMm, thin.Y / perMm),
            };
        if (Thinnest(Inverted(shape), perMm, inside: true) is { } gap)
            yield return new(
                "gaps-too-thin",
                FindingWeight.Note,
                Text(
                    $"\"{plate.Name}\" leaves strips of waste {gap.Mm:0.0} mm wide {At(gap.X, gap.Y, perMm)}: they tear while weeding"
                ),
                "open them up, or let the weeder take them singly",
                Math.Round(gap.Mm, 2),
                LeastStrokeMm,
                "mm"
            )
            {
                Spot = FindingSpot.Around(gap.X / perMm, gap.Y / perMm),
            };
        var pieces = Islands.Find(shape).All.ToArray();
        var small = pieces.Where(p => Math.Max(p.Width, p.Height) < LeastPieceMm * perMm).ToArray();
        if (small.Length > 0)
        {
            var least = small.MinBy(p => Math.Max(p.Width, p.Height));
            var mm = Math.Max(least.Width, least.Height) / perMm;
            yield return new(
                "small-pieces",
                FindingWeight.Warning,
                Text(
                    $"{Count(small.Length, "piece")} of \"{plate.Name}\" {Are(small.Length)} smaller than {LeastPieceMm:0} mm, the smallest {mm:0.0} mm {At(least.Left + least.Width / 2, least.Top + least.Height / 2, perMm)}: such pieces lift in the wash"
                ),
                "join them to their neighbours, leave them out, or place the print larger",
                Math.Round(mm, 2),
                LeastPieceMm,
                "mm"
            )
            {
                Spot = FindingSpot.OfPixels(least.Left, least.Top, least.Right, least.Bottom, perMm),
            };
        }
        if (VinylLettering.Smallest(pieces, LeastCapitalMm * perMm) is { } row)
            yield return new(
                "letters-too-small",
                FindingWeight.Warning,
                Text(
                    $"\"{plate.Name}\" has what looks like lettering {row.Height / perMm:0.0} mm high {At(row.Left, row.Top, perMm)}, capitals from {LeastCapitalMm:0} mm on can be weeded"
                ),
                "set it larger, or print it with a method that holds it",
                Math.Round(row.Height / perMm, 1),
                LeastCapitalMm,
                "mm"
            );
        var holes = Islands.Find(shape, ink: false).All.Where(h => !h.TouchesBorder).ToArray();
        var smallest = holes.Length == 0 ? (Island?)null : holes.MinBy(h => h.Area);
        yield return new(
            "weeding",
            FindingWeight.Note,
            Text(
                $"\"{plate.Name}\" weeds to {Count(pieces.Length, "piece")} with {Count(holes.Length, "hole")}{(smallest is { } s ? Text($", the smallest hole {s.Width / perMm:0.0} x {s.Height / perMm:0.0} mm") : "")}"
            ),
            "nothing; the weeding report has the rest",
            pieces.Length,
            null,
            "pieces"
        );
    }

    /// <summary>The thinnest stroke under the limit (lower twentieth of its middle points) and where it is; null when there is none to speak of.</summary>
    /// <param name="inside">Not along the border, where waste has no second edge.</param>
    private static (double Mm, int X, int Y)? Thinnest(BytePlane shape, double perMm, bool inside = false)
    {
        // Antialiased edges put the middle line within a twentieth of a pixel.
        var limit = (LeastStrokeMm / 2 - 0.02) * perMm;
        var strokes = Strokes.Long(
            Strokes.Find(shape, EdgeDistance.Of(shape, limit + 1), limit, 0.2),
            Math.Max(4, perMm)
        );
        if (inside)
            strokes.RemoveAll(s =>
                Math.Min(Math.Min(s.X, s.Y), Math.Min(shape.Width - s.X, shape.Height - s.Y)) < 2 * limit
            );
        if (strokes.Count < 2 * perMm)
            return null;
        var points = strokes.OrderBy(s => s.HalfWidth).ToArray();
        var point = points[points.Length / 20];
        return (2 * point.HalfWidth / perMm, point.X, point.Y);
    }

    private static BytePlane Inverted(BytePlane shape) =>
        new(shape.Width, shape.Height, Array.ConvertAll(shape.Pixels, v => (byte)(255 - v)));

    private static string At(int x, int y, double perMm) =>
        Text($"at {x / perMm:0} mm from the left and {y / perMm:0} mm from the top");

    private static string Count(int number, string what) => number == 1 ? $"1 {what}" : $"{number} {what}s";

    private static string Are(int number) => number == 1 ? "is" : "are";
}
