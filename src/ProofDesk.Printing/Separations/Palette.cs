using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// One colour of the art.
/// </summary>
/// <param name="Linear">Mean of its flat pixels.</param>
/// <param name="Members">Colours that count as this one: itself, and those merged into it when fewer inks were asked for.</param>
/// <param name="Weight">Pixels of its flat areas, in the sample.</param>
internal sealed record PaletteColour(LinearRgb Linear, Oklab Seen, ImmutableArray<Oklab> Members, double Weight)
{
    public double DistanceTo(Oklab seen)
    {
        var least = double.PositiveInfinity;
        foreach (var member in Members)
            least = Math.Min(least, Palette.Distance(member, seen));
        return least;
    }

    public string Hex =>
        FormattableString.Invariant(
            $"#{(int)Math.Round(255 * Srgb.Encode(Math.Clamp(Linear.R, 0, 1))):x2}{(int)Math.Round(255 * Srgb.Encode(Math.Clamp(Linear.G, 0, 1))):x2}{(int)Math.Round(255 * Srgb.Encode(Math.Clamp(Linear.B, 0, 1))):x2}"
        );
}

/// <summary>
/// The colours of spot art: peaks of the histogram of flat pixels in Oklab, then whatever stays that no blend of two
/// peaks explains (the far end of a fade, a colour that only lives in thin strokes). A blend is never a colour of its
/// own unless it stands flat somewhere: that is what keeps antialiasing and fades from becoming inks.
/// </summary>
internal static class Palette
{
    /// <summary>Closer than this in Oklab is the same ink: twice what a careful eye tells apart side by side.</summary>
    public const double SameInk = 0.045;

    /// <summary>Radius of a peak; JPEG noise in flat areas stays well inside.</summary>
    private const double PeakRadius = 0.018;

    /// <summary>Share of the pixels within two peak radii that lie within one: an even fade reaches one half.</summary>
    private const double PeakShare = 0.72;

    /// <summary>Further than this from every blend of two colours is unexplained.</summary>
    private const double Unexplained = 0.06;

    /// <summary>A colour of a smaller share is dirt; the biggest print's smallest star is larger.</summary>
    private const double LeastShare = 0.0003;

    public const int Most = 12;

    private sealed record Cluster(LinearRgb Linear, Oklab Seen, double Weight);

    public static ImmutableArray<PaletteColour> Find(IReadOnlyList<ColourBin> bins, int? count)
    {
        var total = bins.Sum(b => (double)b.Along);
        if (total == 0)
            return [];
        var least = Math.Max(Math.Min(4, total), LeastShare * total);
        var found = Clusters(bins)
            .Where(c => c.Weight >= least && IsPeak(bins, c.Seen))
            .Select(c => new PaletteColour(c.Linear, c.Seen, [c.Seen], c.Weight))
            .ToList();
        AddUnexplained(bins, found, least, count ?? Most);
        Reduce(found, count ?? Most);
        return [.. found.OrderByDescending(c => c.Weight)];
    }

    public static double Distance(Oklab a, Oklab b)
    {
        var (l, x, y) = (a.L - b.L, a.A - b.A, a.B - b.B);
        return Math.Sqrt(l * l + x * x + y * y);
    }

    private static bool IsPeak(IReadOnlyList<ColourBin> bins, Oklab centre)
    {
        var (inside, around) = (0.0, 0.0);
        foreach (var bin in bins)
        {
            var distance = Distance(bin.Seen, centre);
            if (distance <= PeakRadius)
                inside += bin.Flat;
            if (distance <= 2 * PeakRadius)
                around += bin.Flat;
        }
        return inside >= PeakShare * around;
    }

    private static List<Cluster> Clusters(IReadOnlyList<ColourBin> bins)
    {
        var flat = bins.Where(b => b.Flat > 0).OrderByDescending(b => b.Flat).ThenBy(b => b.Index).ToArray();
        var centres = new List<Oklab>();
        foreach (var bin in flat)
            if (centres.Count < 256 && !centres.Exists(c => Distance(c, bin.Seen) < SameInk))
                centres.Add(bin.Seen);
        var clusters = new List<Cluster>();
        // k-means, trimmed at the radius of one ink so that a fade does not pull its end colours inwards.
        for (var round = 0; round < 4; round++)
        {
            clusters = Gather(flat, centres);
            centres = [.. clusters.Select(c => c.Seen)];
        }
        return clusters;
    }

    private static List<Cluster> Gather(ColourBin[] flat, List<Oklab> centres)
    {
        var sums = new (double R, double G, double B, double Weight, double Peak)[centres.Count];
        foreach (var bin in flat)
        {
            var (nearest, distance) = Nearest(centres, bin.Seen);
            if (distance > SameInk)
                continue;
            ref var sum = ref sums[nearest];
            var peak = distance <= PeakRadius ? bin.Flat : 0;
            // Only the peak moves the mean: the shoulders are noise or the beginning of a fade.
            var weight = peak > 0 ? bin.Flat : 1e-6 * bin.Flat;
            sum = (
                sum.R + weight * bin.Mean.R,
                sum.G + weight * bin.Mean.G,
                sum.B + weight * bin.Mean.B,
                sum.Weight + bin.Flat,
                sum.Peak + weight
            );
        }
        var clusters = new List<Cluster>();
        foreach (var (r, g, b, weight, peak) in sums)
            if (weight > 0)
            {
                var mean = new LinearRgb(r / peak, g / peak, b / peak);
                clusters.Add(new(mean, ColourHistogram.Seen(mean), weight));
            }
        // Two centres that drifted into one peak are one colour.
        var kept = new List<Cluster>();
        foreach (var cluster in clusters.OrderByDescending(c => c.Weight))
            if (!kept.Exists(k => Distance(k.Seen, cluster.Seen) < SameInk * 0.8))
                kept.Add(cluster);
        return kept;
    }

    private static (int Index, double Distance) Nearest(List<Oklab> centres, Oklab seen)
    {
        var (best, least) = (0, double.PositiveInfinity);
        for (var i = 0; i < centres.Count; i++)
        {
            var distance = Distance(centres[i], seen);
            if (distance < least)
                (best, least) = (i, distance);
        }
        return (best, least);
    }

    /// <summary>
    /// Adds the most outlying colour that the blends of the others do not explain, until little is left unexplained.
    /// Then drops again what a later, more outlying one explains.
    /// </summary>
    private static void AddUnexplained(IReadOnlyList<ColourBin> bins, List<PaletteColour> found, double least, int most)
    {
        var peaks = found.Count;
        var total = bins.Sum(b => (double)b.Along);
        var open = bins.Where(b => b.Along >= Math.Min(2, total)).OrderByDescending(b => b.Along).Take(20_000).ToList();
        while (found.Count < most + 2)
        {
            var blends = Blends(found);
            open = open.FindAll(b => blends.Count == 0 || Off(blends, b.Seen) > Unexplained);
            if (open.Sum(b => (double)b.Along) < 4 * least)
                break;
            var next = open.MaxBy(b => (blends.Count == 0 ? 1 : Off(blends, b.Seen)) * Math.Pow(b.Along, 0.4))!;
            // The centre of the cell's neighbourhood stands for it.
            var near = open.Where(b => Distance(b.Seen, next.Seen) < PeakRadius).ToArray();
            var weight = near.Sum(b => (double)b.Along);
            if (weight < least)
            {
                open.Remove(next);
                continue;
            }
            found.Add(new(next.Mean, next.Seen, [next.Seen], weight));
        }
        for (var i = found.Count - 1; i >= peaks; i--)
        {
            var others = found.Where((_, j) => j != i).ToList();
            if (others.Count > 1 && Off(Blends(others), found[i].Seen) <= Unexplained)
                found.RemoveAt(i);
        }
    }

    private static double Off(List<Oklab> blends, Oklab seen)
    {
        var least = double.PositiveInfinity;
        foreach (var blend in blends)
            least = Math.Min(least, Distance(blend, seen));
        return least;
    }

    /// <summary>Colours and their blends in pairs, mixed in linear light and in sRGB codes (drawing programs do either).</summary>
    internal static List<Oklab> Blends(List<PaletteColour> colours)
    {
        var blends = new List<Oklab>();
        for (var i = 0; i < colours.Count; i++)
        {
            blends.AddRange(colours[i].Members);
            for (var j = 0; j < i; j++)
            for (var k = 1; k < 12; k++)
            {
                blends.Add(ColourHistogram.Seen(Blend.Linear(colours[i].Linear, colours[j].Linear, k / 12.0)));
                blends.Add(ColourHistogram.Seen(Blend.Codes(colours[i].Linear, colours[j].Linear, k / 12.0)));
            }
        }
        return blends;
    }

    /// <summary>Merges the pair whose merging costs least (Ward 1963) until so many are left.</summary>
    private static void Reduce(List<PaletteColour> found, int most)
    {
        while (found.Count > Math.Max(1, most))
        {
            var (a, b, least) = (0, 1, double.PositiveInfinity);
            for (var i = 0; i < found.Count; i++)
            for (var j = i + 1; j < found.Count; j++)
            {
                var (p, q) = (found[i], found[j]);
                var distance = Distance(p.Seen, q.Seen);
                var cost = p.Weight * q.Weight / (p.Weight + q.Weight) * distance * distance;
                if (cost < least)
                    (a, b, least) = (i, j, cost);
            }
            var (one, other) = found[a].Weight >= found[b].Weight ? (found[a], found[b]) : (found[b], found[a]);
            found.RemoveAt(b);
            // The bigger one keeps its colour: an average of two brand colours is neither.
            found[a] = one with
            {
                Members = [.. one.Members, .. other.Members],
                Weight = one.Weight + other.Weight,
            };
        }
    }
}
