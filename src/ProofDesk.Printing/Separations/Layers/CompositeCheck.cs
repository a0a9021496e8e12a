using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>
/// The plates of the layers, printed on each other by the forward model, held against the picture that the file shows. It is
/// asked where both stand flat, on a grid: edges prove nothing. All tones share one angle, so dots lie on dots.
/// </summary>
internal static class CompositeCheck
{
    private const int Samples = 40_000;

    /// <summary>A colour this far from the picture (CIEDE2000) is another colour to the client.</summary>
    private const double Far = 6;

    /// <summary>Places smaller than this share of the print are not named.</summary>
    private const double LeastPlace = 0.005;

    private const int MostPlaces = 3;

    /// <summary>Codes that neighbours may differ by where the picture stands flat.</summary>
    private const int Flat = 6;

    private const double MissingMm2 = 4;

    /// <summary>Where the same plates lie on each other.</summary>
    private sealed class Place
    {
        public List<(int X, int Y)> Points { get; } = [];
        public double Sum { get; set; }
        public double Off => Sum / Points.Count;

        /// <summary>Half way down, so that one finds it.</summary>
        public (int X, int Y) Middle => Points[Points.Count / 2];
    }

    /// <param name="said">What is said of the inks already: a place that shows one of them alone is not said again.</param>
    public static IEnumerable<Finding> Of(
        LayerJob job,
        LayerPlan plan,
        Separation separation,
        ImmutableArray<Finding> said
    )
    {
        if (Missing(job, plan) is { } missing)
            yield return missing;
        if (plan.Colours.IsEmpty || separation.Plates.IsEmpty)
            yield break;
        if (job.Art.Layers.All(l => l.Colour is null))
        {
            yield return new(
                "layers-without-picture",
                FindingWeight.Note,
                "the file shows its layers in no colour, so there is no picture to hold the plates against: the proof is the first one",
                "look at the proof closely, or send a picture of the finished print beside it"
            );
            yield break;
        }
        var points = Points(job);
        if (points.Count == 0)
            yield break;
        var known = KnownFar(plan, said);
        foreach (var sheet in separation.Grounds)
        foreach (var finding in OnGround(job, separation, sheet, points, known))
            yield return finding;
    }

    /// <summary>Inks of which far-from-art, or of white that it prints grey, says the same with what to do about the ink.</summary>
    private static HashSet<string> KnownFar(LayerPlan plan, ImmutableArray<Finding> said) =>
        [
            .. plan
                .Decision.Inks.Where(ink =>
                    ink.IsWhite ? said.Any(f => f.Code == "white-is-grey") : SeparationChecks.IsFarFromArt(ink)
                )
                .Select(ink => ink.Ink.Id),
        ];

    /// <summary>One colour alone, on its base or on the cloth; white to be seen may be the base's own.</summary>
    private static bool IsOneOf(HashSet<string> inks, IEnumerable<Plate> plates)
    {
        Plate[] all = [.. plates];
        Plate[] colours = [.. all.Where(p => !p.Purpose.IsUnderColours)];
        var seen = (colours.Length > 0 ? colours : all).Select(p => p.Ink.Id).Distinct().ToArray();
        return seen.Length == 1 && inks.Contains(seen[0]);
    }

    private static IEnumerable<Finding> OnGround(
        LayerJob job,
        Separation separation,
        GroundPlan sheet,
        List<(int X, int Y)> points,
        HashSet<string> known
    )
    {
        var stack = new InkStack(job, separation, sheet);
        var cloth = Srgb.FromLab(stack.Cloth);
        var offs = new List<double>(points.Count);
        var places = new Dictionary<ulong, Place>();
        foreach (var (x, y) in points)
        {
            var (printed, code) = stack.At(x, y);
            var off = Ciede2000.Difference(printed, Wanted(job.Art.Pixels, x, y, cloth));
            offs.Add(off);
            if (!places.TryGetValue(code, out var place))
                places[code] = place = new();
            place.Points.Add((x, y));
            place.Sum += off;
        }
        offs.Sort();
        var (mean, most) = (offs.Average(), offs[(int)(0.95 * (offs.Count - 1))]);
        var on = sheet.Ground.Colour.Name.ToLowerInvariant();
        yield return new(
            "layers-against-picture",
            mean > Far ? FindingWeight.Warning : FindingWeight.Note,
            Text(
                $"on {on} the plates of the layers print {mean:0.0} dE00 from the picture on average, 95 % of it within {most:0.0}"
            ),
            mean > Far
                ? "look at the places named, and at the proof beside the art, before anything is burned"
                : "nothing, or look at the proof beside the art",
            Math.Round(mean, 1),
            Far,
            "dE00"
        );
        var worst = places
            .Where(p => p.Value.Off > Far && p.Value.Points.Count >= LeastPlace * points.Count)
            .Where(p => !IsOneOf(known, stack.PlatesOf(p.Key)))
            .OrderByDescending(p => p.Value.Sum)
            .Take(MostPlaces);
        foreach (var (code, place) in worst)
        {
            var (x, y) = place.Middle;
            yield return new(
                "layers-off-picture",
                FindingWeight.Warning,
                Text(
                    $"on {on} the print is {place.Off:0.0} dE00 from the picture {stack.Names(code)}, {100.0 * place.Points.Count / points.Count:0.#} % of the print, for instance {x / job.Art.PixelsPerMm:0} mm from its left and {y / job.Art.PixelsPerMm:0} mm from its top"
                ),
                "look at this place in the proof; if the picture is right, change the layer or its ink",
                Math.Round(place.Off, 1),
                Far,
                "dE00"
            );
        }
    }

    /// <summary>Points of a grid where the picture and every layer stand flat, and the picture is of colours that the file shows.</summary>
    private static List<(int X, int Y)> Points(LayerJob job)
    {
        var (pixels, layers) = (job.Art.Pixels, job.Art.Layers);
        var step = Math.Max(1, (int)Math.Sqrt((double)job.Width * job.Height / Samples));
        var points = new List<(int, int)>();
        for (var y = step / 2; y < job.Height; y += step)
        for (var x = step / 2; x < job.Width; x += step)
        {
            if (x < 1 || y < 1 || x >= job.Width - 1 || y >= job.Height - 1 || pixels.Row(y)[4 * x + 3] < 32768)
                continue;
            if (layers.Any(l => l.Colour is null && l.Coverage[x, y] > 5))
                continue;
            if (IsFlat(pixels, x, y) && layers.All(l => IsFlat(l.Coverage, x, y)))
                points.Add((x, y));
        }
        return points;
    }

    private static bool IsFlat(RgbaRaster pixels, int x, int y)
    {
        var p = pixels.Row(y).Slice(4 * x, 4);
        foreach (var (nx, ny) in ((int, int)[])[(x - 1, y), (x + 1, y), (x, y - 1), (x, y + 1)])
        {
            var q = pixels.Row(ny).Slice(4 * nx, 4);
            for (var c = 0; c < 4; c++)
                if (Math.Abs(p[c] - q[c]) > Flat * 257)
                    return false;
        }
        return true;
    }

    private static bool IsFlat(BytePlane plane, int x, int y)
    {
        int value = plane[x, y];
        return Math.Abs(plane[x - 1, y] - value) <= Flat
            && Math.Abs(plane[x + 1, y] - value) <= Flat
            && Math.Abs(plane[x, y - 1] - value) <= Flat
            && Math.Abs(plane[x, y + 1] - value) <= Flat;
    }

    /// <summary>The picture lying on the cloth; where it lets through, the cloth shows.</summary>
    private static Lab Wanted(RgbaRaster pixels, int x, int y, LinearRgb cloth)
    {
        var p = pixels.Row(y).Slice(4 * x, 4);
        var alpha = p[3] / 65535.0;
        double Mix(ushort art, double below) => alpha * art / 65535.0 + (1 - alpha) * below;
        return Srgb.ToLab(new(Mix(p[0], cloth.R), Mix(p[1], cloth.G), Mix(p[2], cloth.B)));
    }

    /// <summary>What the picture shows and no layer prints.</summary>
    private static Finding? Missing(LayerJob job, LayerPlan plan)
    {
        var pixels = job.Art.Pixels;
        var planes = job.Art.Layers.Select(l => l.Coverage).ToArray();
        var counts = new long[job.Height];
        RowLoop.Run(
            job.Height,
            job.Width * planes.Length,
            y =>
            {
                var row = pixels.Row(y);
                for (var x = 0; x < job.Width; x++)
                {
                    if (row[4 * x + 3] < 32768)
                        continue;
                    var printed = false;
                    foreach (var plane in planes)
                        printed |= plane.Pixels[y * job.Width + x] > 25;
                    counts[y] += printed ? 0 : 1;
                }
            }
        );
        var mm2 = counts.Sum() / job.PerMm2;
        return mm2 < MissingMm2
            ? null
            : new(
                "not-on-any-layer",
                FindingWeight.Warning,
                Text($"{mm2 / 100:0.00} cm2 of the picture are on no layer and print on no plate"),
                "put everything that is to be printed on a layer that is named for its ink",
                Math.Round(mm2 / 100, 2),
                0,
                "cm2"
            );
    }
}
