using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>
/// Colours that may stand flat in mixed art: narrow peaks of the histogram. Most are smooth places of the picture; whether one
/// is flat with crisp edges is seen in the pixels (<see cref="FlatRegions"/>).
/// </summary>
internal static class FlatCandidates
{
    public const int Most = 24;

    /// <summary>Tried in order of weight.</summary>
    private const int Tried = 400;

    /// <summary>A peak of flat colour, codes: noise of JPEG inside lettering stays within.</summary>
    private const int Peak = 8;

    /// <summary>Around the peak there is little: a gradient has 0.4 of what lies within this inside the peak, a texture less.</summary>
    private const int Around = 20;
    private const double PeakShare = 0.35;

    /// <summary>Of all pixels: smaller is found by its regions, if at all.</summary>
    private const double LeastShare = 0.0004;

    /// <summary>Means of the peaks, linear light, the heaviest first.</summary>
    public static ImmutableArray<LinearRgb> Of(IReadOnlyList<ColourBin> bins)
    {
        var total = bins.Sum(b => (double)b.Along);
        var coded = bins.OrderByDescending(b => b.Along).ThenBy(b => b.Index).Select(b => new Coded(b)).ToArray();
        var found = new List<(LinearRgb Mean, (int R, int G, int B) Code)>();
        foreach (var centre in coded.Take(Tried))
        {
            if (found.Count == Most)
                break;
            if (found.Exists(f => Distance(f.Code, centre.Code) <= 2 * Peak))
                continue;
            double inside = 0,
                around = 0,
                r = 0,
                g = 0,
                b = 0;
            foreach (var bin in coded)
            {
                var distance = Distance(bin.Code, centre.Code);
                if (distance <= Around)
                    around += bin.Weight;
                if (distance > Peak)
                    continue;
                inside += bin.Weight;
                r += bin.Weight * bin.Mean.R;
                g += bin.Weight * bin.Mean.G;
                b += bin.Weight * bin.Mean.B;
            }
            if (inside < LeastShare * total || inside < PeakShare * around)
                continue;
            var mean = new LinearRgb(r / inside, g / inside, b / inside);
            found.Add((mean, Codes(mean)));
        }
        return [.. found.Select(f => f.Mean)];
    }

    public static (int R, int G, int B) Codes(LinearRgb c) => (Code(c.R), Code(c.G), Code(c.B));

    public static int Distance((int R, int G, int B) a, (int R, int G, int B) b) =>
        Math.Max(Math.Abs(a.R - b.R), Math.Max(Math.Abs(a.G - b.G), Math.Abs(a.B - b.B)));

    private static int Code(double linear) => (int)Math.Round(255 * Srgb.Encode(Math.Clamp(linear, 0, 1)));

    private sealed class Coded(ColourBin bin)
    {
        public LinearRgb Mean => bin.Mean;
        public double Weight => bin.Along;
        public (int R, int G, int B) Code { get; } = Codes(bin.Mean);
    }
}
