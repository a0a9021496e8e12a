using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// For each cell of sRGB codes: which palette colour it is, or that it is a mixture, and then of which two. The second
/// answer is worked out when first asked.
/// </summary>
internal sealed class PaletteMap
{
    public const byte Mixture = 254;

    /// <summary>This close to a palette colour is that colour, not a mixture with a little of another.</summary>
    private const double Pure = 0.04;

    private readonly byte[] _labels = new byte[ColourHistogram.Cells];

    // 0 = not asked yet, otherwise 1 + (first << 8 | second). Two threads that ask at once write the same answer.
    private readonly int[] _pairs = new int[ColourHistogram.Cells];

    private readonly (double R, double G, double B)[] _linear;
    private readonly (double R, double G, double B)[] _codes;

    public PaletteMap(ImmutableArray<PaletteColour> palette)
    {
        Count = palette.Length;
        _linear = [.. palette.Select(c => (c.Linear.R, c.Linear.G, c.Linear.B))];
        _codes = [.. palette.Select(c => (Code(c.Linear.R), Code(c.Linear.G), Code(c.Linear.B)))];
        var reach = palette.Select(c => Reach(palette, c)).ToArray();
        RowLoop.Run(64, 64 * 64 * 16, r => Label(palette, reach, r));
    }

    public int Count { get; }

    public byte this[int cell] => _labels[cell];

    /// <summary>The two colours whose mixture comes nearest, over all pairs.</summary>
    public (int One, int Other) Pair(int cell)
    {
        var known = _pairs[cell];
        if (known == 0)
        {
            var all = new int[Count];
            for (var i = 0; i < Count; i++)
                all[i] = i;
            var (one, other, _) = BestPair(cell, all);
            _pairs[cell] = known = 1 + (one << 8 | other);
        }
        return ((known - 1) >> 8, (known - 1) & 255);
    }

    /// <summary>The best of the pairs among <paramref name="among"/> (at least two), and how far off it is, codes.</summary>
    public (int One, int Other, double Off) BestPair(int cell, ReadOnlySpan<int> among)
    {
        var best = (One: among[0], Other: among[0], Off: double.PositiveInfinity);
        for (var i = 0; i < among.Length; i++)
        for (var j = i + 1; j < among.Length; j++)
        {
            var off = Off(cell, among[i], among[j]);
            if (off < best.Off)
                best = (among[i], among[j], off);
        }
        return best;
    }

    /// <summary>Share of the second colour, 0..1, in linear light or in sRGB codes.</summary>
    public double Share(bool inCodes, int one, int other, double r, double g, double b)
    {
        var (from, to) = inCodes ? (_codes[one], _codes[other]) : (_linear[one], _linear[other]);
        return Math.Clamp(Project(from, to, (r, g, b)), 0, 1);
    }

    public double LightnessStep(int one, int other) => Math.Abs(_codes[one].G - _codes[other].G);

    public bool Lighter(int one, int other) => _codes[one].G > _codes[other].G;

    /// <summary>Least distance, in codes, of a cell from the mixtures of two colours, blended either way.</summary>
    private double Off(int cell, int one, int other)
    {
        var code = Centre(cell);
        var straight = Distance(_codes[one], _codes[other], code);
        var light = (Linear(code.R), Linear(code.G), Linear(code.B));
        var t = Math.Clamp(Project(_linear[one], _linear[other], light), 0, 1);
        var (a, b) = (_linear[one], _linear[other]);
        var mixed = (Code(a.R + t * (b.R - a.R)), Code(a.G + t * (b.G - a.G)), Code(a.B + t * (b.B - a.B)));
        return Math.Min(straight, Length(mixed, code));
    }

    private static double Reach(ImmutableArray<PaletteColour> palette, PaletteColour colour)
    {
        var nearest = palette
            .Where(other => other != colour)
            .Select(other => colour.Members.Min(other.DistanceTo))
            .DefaultIfEmpty(1)
            .Min();
        return Math.Min(Pure, 0.45 * nearest);
    }

    private void Label(ImmutableArray<PaletteColour> palette, double[] reach, int r)
    {
        for (var cell = r << 12; cell < (r + 1) << 12; cell++)
        {
            var (cr, cg, cb) = Centre(cell);
            var seen = ColourHistogram.Seen(new(Linear(cr), Linear(cg), Linear(cb)));
            var label = Count == 1 ? (byte)0 : Mixture;
            var least = double.PositiveInfinity;
            for (var i = 0; i < Count && Count > 1; i++)
            {
                var distance = palette[i].DistanceTo(seen);
                if (distance <= reach[i] && distance < least)
                    (label, least) = ((byte)i, distance);
            }
            _labels[cell] = label;
        }
    }

    private static (double R, double G, double B) Centre(int cell) =>
        (4 * (cell >> 12) + 1.5, 4 * (cell >> 6 & 63) + 1.5, 4 * (cell & 63) + 1.5);

    private static double Code(double linear) => 255 * Srgb.Encode(linear);

    private static double Linear(double code) => Srgb.Decode(code / 255);

    private static double Project(
        (double R, double G, double B) a,
        (double R, double G, double B) b,
        (double R, double G, double B) p
    )
    {
        var (r, g, bl) = (b.R - a.R, b.G - a.G, b.B - a.B);
        var length = r * r + g * g + bl * bl;
        return length == 0 ? 0 : ((p.R - a.R) * r + (p.G - a.G) * g + (p.B - a.B) * bl) / length;
    }

    private static double Distance(
        (double R, double G, double B) a,
        (double R, double G, double B) b,
        (double R, double G, double B) p
    )
    {
        var t = Math.Clamp(Project(a, b, p), 0, 1);
        return Length((a.R + t * (b.R - a.R), a.G + t * (b.G - a.G), a.B + t * (b.B - a.B)), p);
    }

    private static double Length((double R, double G, double B) a, (double R, double G, double B) b)
    {
        var (r, g, bl) = (a.R - b.R, a.G - b.G, a.B - b.B);
        return Math.Sqrt(r * r + g * g + bl * bl);
    }
}
