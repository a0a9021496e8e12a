using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>
/// Where candidates stand flat: connected pixels of one colour that ends within a few pixels nearly all the way round. A sky ends
/// softly and its colour wanders; lettering does neither. Small areas count only for a colour that has a large one or
/// many, and that hardly occurs elsewhere in the picture.
/// </summary>
internal static class FlatRegions
{
    public const byte None = 255;

    /// <summary>Codes a pixel may differ from its colour; most of them hardly do. Compression leaves the rest near edges.</summary>
    private const int Tolerance = 20;
    private const int Pure = 9;
    private const double PureShare = 0.65;

    /// <summary>An edge is over within so many pixels and has moved by so many codes.</summary>
    private const int EdgePixels = 4;
    private const int EdgeStep = 36;
    private const double CrispShare = 0.75;

    /// <summary>Codes its colour may drift from one end to the other, as a standard deviation.</summary>
    private const double Drift = 1.2;

    /// <summary>Runs are measured in so many parts, side by side.</summary>
    private const int Parts = 16;

    private const int NarrowPixels = 3;
    private const double BothSides = 0.25;

    /// <summary>Smaller islands are dirt: about what a 0.3 mm stroke is at the dot of an i, and no less than a few pixels.</summary>
    private const double LeastIslandMm2 = 0.1;
    private const int LeastIslandPixels = 12;

    /// <summary>One area so large, or several that are together, make a colour.</summary>
    private const double LargeMm2 = 12;
    private const double TogetherMm2 = 5;
    private const int TogetherPixels = 800;
    private const int Several = 3;

    /// <summary>Of all pixels of the colour, so many must stand in its flat areas before small ones count.</summary>
    private const double OwnShare = 0.6;

    /// <summary>An area of at least this counts wherever else the colour occurs.</summary>
    private const double ByItselfMm2 = 4;
    private const int ByItselfPixels = 400;

    /// <summary>The flat colours, and for each pixel which one it is, or <see cref="None"/>.</summary>
    public static (ImmutableArray<FlatColour> Colours, BytePlane Labels) Find(
        RgbaRaster art,
        SrgbCodes codes,
        ImmutableArray<LinearRgb> candidates,
        double pixelsPerMm
    )
    {
        var centres = candidates.Select(FlatCandidates.Codes).ToArray();
        var labels = Settled(Labels(art, codes, centres));
        var runs = RegionRuns.Of(labels);
        var regions = Measure(art, codes, labels, runs, centres);
        var perMm2 = pixelsPerMm * pixelsPerMm;
        var chosen = new List<(int Candidate, HashSet<int> Regions)>();
        double Pixels(double mm2, int least) => Math.Max(mm2 * perMm2, least);
        for (var candidate = 0; candidate < centres.Length; candidate++)
        {
            var mine = regions.Where(r => r.Value.Label == candidate).ToArray();
            var flat = mine.Where(r => r.Value.IsFlat && r.Value.Area >= Pixels(LeastIslandMm2, LeastIslandPixels))
                .ToArray();
            if (flat.Sum(r => r.Value.Area) < OwnShare * mine.Sum(r => r.Value.Area))
                flat = [.. flat.Where(r => r.Value.Area >= Pixels(ByItselfMm2, ByItselfPixels))];
            var area = flat.Sum(r => r.Value.Area);
            var large = flat.Any(r => r.Value.Area >= Pixels(LargeMm2, TogetherPixels));
            if (flat.Length > 0 && (large || flat.Length >= Several && area >= Pixels(TogetherMm2, TogetherPixels)))
                chosen.Add((candidate, [.. flat.Select(r => r.Key)]));
        }
        return Colours(chosen, regions, runs, labels, perMm2);
    }

    private static (ImmutableArray<FlatColour>, BytePlane) Colours(
        List<(int Candidate, HashSet<int> Regions)> chosen,
        Dictionary<int, Region> regions,
        RegionRuns runs,
        BytePlane labels,
        double perMm2
    )
    {
        var colours = chosen
            .Select(c => (Regions: c.Regions.ToArray(), Mean: Region.Mean(c.Regions.Select(r => regions[r]))))
            .Select(c =>
                (
                    c.Regions,
                    Colour: new FlatColour(c.Mean, c.Regions.Sum(r => regions[r].Area) / perMm2, c.Regions.Length)
                )
            )
            .OrderByDescending(c => c.Colour.AreaMm2)
            .ToArray();
        var labelOf = new Dictionary<int, byte>();
        for (var i = 0; i < colours.Length; i++)
            foreach (var region in colours[i].Regions)
                labelOf[region] = (byte)i;
        var kept = new BytePlane(labels.Width, labels.Height);
        kept.Pixels.AsSpan().Fill(None);
        foreach (var (root, y, from, to) in runs.All)
            if (labelOf.TryGetValue(root, out var label))
                kept.Row(y)[from..(to + 1)].Fill(label);
        return ([.. colours.Select(c => c.Colour)], kept);
    }

    private static BytePlane Labels(RgbaRaster art, SrgbCodes codes, (int R, int G, int B)[] centres)
    {
        var cells = new byte[ColourHistogram.Cells];
        for (var cell = 0; cell < cells.Length; cell++)
        {
            var code = (4 * (cell >> 12) + 1, 4 * (cell >> 6 & 63) + 1, 4 * (cell & 63) + 1);
            var (best, least) = (None, Tolerance + 1);
            for (var i = 0; i < centres.Length; i++)
            {
                var distance = FlatCandidates.Distance(code, centres[i]);
                if (distance < least)
                    (best, least) = ((byte)i, distance);
            }
            cells[cell] = best;
        }
        var labels = new BytePlane(art.Width, art.Height);
        RowLoop.Run(
            art.Height,
            art.Width * 2,
            y =>
            {
                var row = art.Row(y);
                var to = labels.Row(y);
                unchecked
                {
                    for (var x = 0; x < to.Length; x++)
                        to[x] =
                            row[4 * x + 3] < 64000
                                ? None
                                : cells[
                                    ColourHistogram.Cell(
                                        codes[row[4 * x]],
                                        codes[row[4 * x + 1]],
                                        codes[row[4 * x + 2]]
                                    )
                                ];
                }
            }
        );
        return labels;
    }

    /// <summary>Pixels that have their colour beside them on two opposite sides; the others are noise or edges.</summary>
    private static BytePlane Settled(BytePlane labels)
    {
        var settled = new BytePlane(labels.Width, labels.Height);
        RowLoop.Run(
            labels.Height,
            labels.Width,
            y =>
            {
                var row = labels.Row(y);
                var above = labels.Row(Math.Max(0, y - 1));
                var below = labels.Row(Math.Min(labels.Height - 1, y + 1));
                var to = settled.Row(y);
                to.Fill(None);
                for (var x = 0; x < row.Length; x++)
                {
                    var label = row[x];
                    if (label == None)
                        continue;
                    var across = row[Math.Max(0, x - 1)] == label && row[Math.Min(row.Length - 1, x + 1)] == label;
                    if (across || above[x] == label && below[x] == label)
                        to[x] = label;
                }
            }
        );
        return settled;
    }

    private static Dictionary<int, Region> Measure(
        RgbaRaster art,
        SrgbCodes codes,
        BytePlane labels,
        RegionRuns runs,
        (int R, int G, int B)[] centres
    )
    {
        var all = runs.All.ToArray();
        // Sums of whole numbers: in parts they come to the same.
        var size = Math.Max(1000, (all.Length + Parts - 1) / Parts);
        var parts = new Dictionary<int, Region>[(all.Length + size - 1) / size];
        RowLoop.RunBands(all.Length, size, (first, count) => parts[first / size] = Part(all.AsSpan(first, count)));
        var regions = parts.Length > 0 ? parts[0] : [];
        foreach (var part in parts.Skip(1))
        foreach (var (root, region) in part)
            if (!regions.TryAdd(root, region))
                regions[root].Add(region);
        return regions;

        Dictionary<int, Region> Part(ReadOnlySpan<(int Root, int Y, int From, int To)> some)
        {
            var found = new Dictionary<int, Region>();
            foreach (var (root, y, from, to) in some)
            {
                var label = labels[from, y];
                if (!found.TryGetValue(root, out var region))
                    found[root] = region = new(label, centres[label]);
                region.Add(art.Row(y)[(4 * from)..(4 * to + 4)], codes, from, y);
                Edge(region, from, y, -1, 0);
                Edge(region, to, y, 1, 0);
                Beside(region, y, from, to, -1);
                Beside(region, y, from, to, 1);
            }
            return found;
        }

        void Beside(Region region, int y, int from, int to, int way)
        {
            if (y + way < 0 || y + way >= labels.Height)
                return;
            var row = labels.Row(y + way)[from..(to + 1)];
            var label = (byte)region.Label;
            for (var x = row.IndexOfAnyExcept(label); x >= 0 && x < row.Length; x++)
                if (row[x] != label)
                    Edge(region, from + x, y, 0, way);
        }

        void Edge(Region region, int x, int y, int dx, int dy)
        {
            var centre = centres[region.Label];
            for (var step = 1; step <= EdgePixels; step++)
            {
                var (nx, ny) = (x + step * dx, y + step * dy);
                if (nx < 0 || ny < 0 || nx >= art.Width || ny >= art.Height)
                    // The edge of the canvas says nothing.
                    return;
                var p = art.Row(ny).Slice(4 * nx, 4);
                var crisp =
                    p[3] < 32768 || FlatCandidates.Distance((codes[p[0]], codes[p[1]], codes[p[2]]), centre) > EdgeStep;
                if (crisp || step == EdgePixels)
                {
                    region.Edge(crisp, p[3] < 32768 || codes[p[1]] > centre.G);
                    return;
                }
            }
        }
    }

    /// <summary>What is measured in one connected area.</summary>
    private sealed class Region(int label, (int R, int G, int B) centre)
    {
        private const int LongRun = 256;

        private readonly long[] _linear = new long[3];
        private readonly Slope[] _across = [new(), new(), new()];
        private readonly Slope[] _down = [new(), new(), new()];
        private long _pure;
        private long _edges;
        private long _crisp;
        private long _lighter;

        public int Label => label;
        public long Area { get; private set; }

        public bool IsFlat =>
            _crisp >= CrispShare * _edges
            && _pure >= PureShare * Area
            && !IsSlope
            && _across.All(s => s.Explains <= Drift)
            && _down.All(s => s.Explains <= Drift);

        /// <summary>A narrow band with lighter pixels on one side and darker ones on the other: the middle of a blurred edge.</summary>
        private bool IsSlope =>
            2 * Area < NarrowPixels * _edges && Math.Min(_lighter, _edges - _lighter) > BothSides * _edges;

        public void Add(ReadOnlySpan<ushort> pixels, SrgbCodes codes, int left, int y)
        {
            Area += pixels.Length / 4;
            // Long runs are looked at in every fourth pixel.
            var every = pixels.Length <= LongRun ? 4 : 16;
            long n = 0,
                at = 0,
                squares = 0;
            Span<long> sums = stackalloc long[3];
            Span<long> products = stackalloc long[3];
            unchecked
            {
                for (var i = 0; i + 3 < pixels.Length; i += 4)
                {
                    var (r, g, b) = (codes[pixels[i]], codes[pixels[i + 1]], codes[pixels[i + 2]]);
                    if (FlatCandidates.Distance((r, g, b), centre) > Pure)
                        continue;
                    _pure++;
                    _linear[0] += pixels[i];
                    _linear[1] += pixels[i + 1];
                    _linear[2] += pixels[i + 2];
                    if (i % every != 0)
                        continue;
                    long x = left + i / 4;
                    n++;
                    at += x;
                    squares += x * x;
                    sums[0] += r;
                    sums[1] += g;
                    sums[2] += b;
                    products[0] += x * r;
                    products[1] += x * g;
                    products[2] += x * b;
                }
            }
            for (var c = 0; c < 3 && n > 0; c++)
            {
                _across[c].Add(n, at, sums[c], squares, products[c]);
                _down[c].Add(n, n * y, sums[c], n * y * y, sums[c] * y);
            }
        }

        public void Add(Region other)
        {
            Area += other.Area;
            _pure += other._pure;
            _edges += other._edges;
            _crisp += other._crisp;
            _lighter += other._lighter;
            for (var c = 0; c < 3; c++)
            {
                _linear[c] += other._linear[c];
                _across[c].Add(other._across[c]);
                _down[c].Add(other._down[c]);
            }
        }

        public void Edge(bool crisp, bool lighterBeyond)
        {
            _edges++;
            _lighter += lighterBeyond ? 1 : 0;
            _crisp += crisp ? 1 : 0;
        }

        /// <summary>Of the pure pixels.</summary>
        public static LinearRgb Mean(IEnumerable<Region> regions)
        {
            var all = regions.ToArray();
            var pure = 65535.0 * all.Sum(r => r._pure);
            return new(
                all.Sum(r => r._linear[0]) / pure,
                all.Sum(r => r._linear[1]) / pure,
                all.Sum(r => r._linear[2]) / pure
            );
        }
    }

    /// <summary>How much of the spread of a colour its place explains: a slope that hardly moves is still painted.</summary>
    private sealed class Slope
    {
        private double _n;
        private double _x;
        private double _c;
        private double _xx;
        private double _xc;

        /// <summary>So many pixels: sums of their places, codes, squares of places and products of both.</summary>
        public void Add(double n, double x, double c, double xx, double xc)
        {
            _n += n;
            _x += x;
            _c += c;
            _xx += xx;
            _xc += xc;
        }

        public void Add(Slope other) => Add(other._n, other._x, other._c, other._xx, other._xc);

        /// <summary>Standard deviation of the line through it, codes.</summary>
        public double Explains
        {
            get
            {
                var spread = _xx / _n - _x / _n * (_x / _n);
                return spread < 1 ? 0 : Math.Abs(_xc / _n - _x / _n * (_c / _n)) / Math.Sqrt(spread);
            }
        }
    }
}
