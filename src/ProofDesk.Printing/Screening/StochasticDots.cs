using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// Stochastic screening: dots of one size, as many as the tone needs, spread so that no distance and no direction is
/// preferred (blue noise). The order of the dots is found by void and cluster (Ulichney 1993, "The void-and-cluster method for
/// dither array generation", Proc. SPIE 1913:332): the first tenth by taking the tightest cluster to the largest void
/// until nothing moves, the rest one by one into the largest void. Whole numbers, so every machine finds the same order.
/// </summary>
internal static class StochasticDots
{
    /// <summary>Dots along each side of the tile: it repeats after 9 mm at 720 dots per inch, without a visible seam.</summary>
    public const int Side = 256;

    /// <summary>Steps a dot is cut into to measure its growth.</summary>
    public const int FineSteps = 4;

    private const int Dots = Side * Side;
    private const int Reach = 7;

    /// <summary>Width of the bell that tells clusters from voids, dots; the source's 1.5.</summary>
    private const double Sigma = 1.5;

    /// <summary>Place of each dot in the order, row by row.</summary>
    private static readonly int[] Order = Find();

    /// <summary>The tile for dots of so many film pixels; variants are the same noise turned and moved.</summary>
    public static ThresholdTile Tile(int across, int down, int variant)
    {
        var (width, height, perDot) = (Side * across, Side * down, across * down);
        var ranks = new int[width * height];
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
            ranks[y * width + x] = Order[At(x / across, y / down, variant)] * perDot + y % down * across + x % across;
        return new(width, height, 0, ranks);
    }

    /// <summary>Area of a tone after its dots grew by so many fine steps: a sixteenth of the tile, measured by exact distances.</summary>
    public static double Grown(double tone, double growth)
    {
        const int Size = Side / 4 * FineSteps;
        var halo = (int)Math.Ceiling(growth) + 1;
        var plane = new BytePlane(Size + 2 * halo, Size + 2 * halo);
        var dots = tone * Dots;
        for (var y = 0; y < plane.Height; y++)
        for (var x = 0; x < plane.Width; x++)
            if (Order[Wrap((y - halo) / FineSteps + 1) * Side + Wrap((x - halo) / FineSteps + 1)] < dots)
                plane[x, y] = 255;
        var distances = DistanceField.ToInk(plane, limit: halo);
        var covered = 0.0;
        for (var y = halo; y < halo + Size; y++)
        for (var x = halo; x < halo + Size; x++)
        {
            var distance = distances[y * plane.Width + x];
            // The edge lies half a step before the first blank one.
            covered += distance == 0 ? 1 : Math.Clamp(growth - distance + 1, 0, 1);
        }
        return covered / (Size * Size);
    }

    private static int At(int x, int y, int variant)
    {
        if ((variant & 1) != 0)
            (x, y) = (y, x);
        if ((variant & 2) != 0)
            x = Side - 1 - x;
        return Wrap(y + 71 * variant) * Side + Wrap(x + 37 * variant);
    }

    private static int Wrap(int i) => (i % Side + Side) % Side;

    private static int[] Find()
    {
        var field = new Field();
        for (var i = 0; i < Dots; i++)
            if (SeededNoise.Hash(0xB1E, i) % 10 == 0)
                field.Set(i, true);
        var first = field.Count;
        // Until the dot taken from the tightest cluster goes back where it was.
        for (var moves = 0; moves < Dots; moves++)
        {
            var cluster = field.Tightest();
            field.Set(cluster, false);
            var hole = field.Largest();
            field.Set(hole, true);
            if (hole == cluster)
                break;
        }
        var order = new int[Dots];
        var start = field.Copy();
        for (var rank = first - 1; rank >= 0; rank--)
        {
            var cluster = start.Tightest();
            start.Set(cluster, false);
            order[cluster] = rank;
        }
        for (var rank = first; rank < Dots; rank++)
        {
            var hole = field.Largest();
            field.Set(hole, true);
            order[hole] = rank;
        }
        return order;
    }

    /// <summary>Dots on a torus, how crowded each place is, and the extremes of each row kept up to date.</summary>
    private sealed class Field
    {
        private static readonly int[] Bell = MakeBell();

        private readonly bool[] _ink = new bool[Dots];
        private readonly int[] _crowd = new int[Dots];
        private readonly int[] _tightest = new int[Side];
        private readonly int[] _largest = new int[Side];

        public int Count { get; private set; }

        public Field()
        {
            for (var y = 0; y < Side; y++)
                Scan(y);
        }

        public Field Copy()
        {
            var copy = new Field { Count = Count };
            _ink.CopyTo(copy._ink, 0);
            _crowd.CopyTo(copy._crowd, 0);
            _tightest.CopyTo(copy._tightest, 0);
            _largest.CopyTo(copy._largest, 0);
            return copy;
        }

        /// <summary>The dot with most others around it.</summary>
        public int Tightest()
        {
            var best = -1;
            foreach (var at in _tightest)
                if (at >= 0 && (best < 0 || _crowd[at] > _crowd[best]))
                    best = at;
            return best;
        }

        /// <summary>The empty place with least around it.</summary>
        public int Largest()
        {
            var best = -1;
            foreach (var at in _largest)
                if (at >= 0 && (best < 0 || _crowd[at] < _crowd[best]))
                    best = at;
            return best;
        }

        public void Set(int at, bool ink)
        {
            _ink[at] = ink;
            Count += ink ? 1 : -1;
            var (cx, cy) = (at % Side, at / Side);
            for (var dy = -Reach; dy <= Reach; dy++)
            {
                var row = Wrap(cy + dy);
                for (var dx = -Reach; dx <= Reach; dx++)
                {
                    var bell = Bell[(dy + Reach) * (2 * Reach + 1) + dx + Reach];
                    _crowd[row * Side + Wrap(cx + dx)] += ink ? bell : -bell;
                }
                if (dy == 0 || Near(_tightest[row], cx) || Near(_largest[row], cx))
                    Scan(row);
                else
                    Compare(row, cx);
            }
        }

        private static bool Near(int at, int x) => at < 0 || Wrap(at % Side - x + Reach) <= 2 * Reach;

        /// <summary>The extremes lie elsewhere and did not change; what did may now be beyond them.</summary>
        private void Compare(int y, int x)
        {
            for (var dx = -Reach; dx <= Reach; dx++)
            {
                var at = y * Side + Wrap(x + dx);
                if (_ink[at] && Beyond(_crowd[at], at, _crowd[_tightest[y]], _tightest[y]))
                    _tightest[y] = at;
                else if (!_ink[at] && Beyond(-_crowd[at], at, -_crowd[_largest[y]], _largest[y]))
                    _largest[y] = at;
            }
        }

        /// <summary>Of equal places the first counts, as in a scan.</summary>
        private static bool Beyond(int crowd, int at, int best, int bestAt) =>
            crowd > best || crowd == best && at < bestAt;

        private void Scan(int y)
        {
            var (tightest, largest) = (-1, -1);
            for (var i = y * Side; i < (y + 1) * Side; i++)
                if (_ink[i])
                    tightest = tightest < 0 || _crowd[i] > _crowd[tightest] ? i : tightest;
                else
                    largest = largest < 0 || _crowd[i] < _crowd[largest] ? i : largest;
            (_tightest[y], _largest[y]) = (tightest, largest);
        }

        private static int[] MakeBell()
        {
            var bell = new int[(2 * Reach + 1) * (2 * Reach + 1)];
            for (var dy = -Reach; dy <= Reach; dy++)
            for (var dx = -Reach; dx <= Reach; dx++)
                bell[(dy + Reach) * (2 * Reach + 1) + dx + Reach] = (int)
                    Math.Round((1 << 20) * Math.Exp(-(dx * dx + dy * dy) / (2 * Sigma * Sigma)));
            return bell;
        }
    }
}
