using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// A patch of knit, a whole number of wales and courses: for each film pixel a thickness class and whether a fibre can
/// stand through there, for each picture cell the light and shade of the stitches. Ink lies thick between the wales and
/// thin on top of them; yarn and single fibres add finer noise. Each class covers exactly its share of the tile. Woven
/// cloth is the same with ends for wales and picks for courses, an even number of each so that the weave joins.
/// </summary>
internal sealed class KnitTile
{
    private const double WantedMm = 20;

    // A weave joins again only after two threads, a knit after each stitch.
    private readonly int _repeat;

    private KnitTile(int wales, int courses, ClassTile classes, float[] relief, ulong seed, bool woven)
    {
        (Wales, Courses, Classes, Relief, Seed) = (wales, courses, classes, relief, seed);
        _repeat = woven ? 2 : 1;
    }

    public int Wales { get; }
    public int Courses { get; }
    public ulong Seed { get; }

    /// <summary>Class = thickness class + 8 x bucket; bucket 0: no fibre ever, bucket i: bare where the code's share reaches the i-th level.</summary>
    public ClassTile Classes { get; }

    /// <summary>Light and shade of the stitches, one value a cell, mean 0, about -1..1.</summary>
    public float[] Relief { get; }

    public static KnitTile Make(Knit knit, PictureScale scale, ReadOnlySpan<double> bareShares, ulong seed)
    {
        seed ^= 0x4B_4E49_54;
        var wales = (int)Math.Max(4, Math.Round(WantedMm / knit.WalePitchMm));
        var courses = (int)Math.Max(4, Math.Round(WantedMm / knit.CoursePitchMm));
        if (knit.Woven)
            (wales, courses) = (wales + (wales & 1), courses + (courses & 1));
        var across = (int)Math.Round(wales * knit.WalePitchMm / scale.CellMm);
        var down = (int)Math.Round(courses * knit.CoursePitchMm / scale.CellMm);
        var soft = SoftNoise(across, down, knit.WalePitchMm / scale.CellMm / 4, seed);
        var (width, height) = (across * scale.CellWidth, down * scale.CellHeight);
        var bucket = BareBuckets(width, height, wales, bareShares, seed + 1, knit.Woven);
        var thickness = Thickness(width, height, scale, wales, courses, soft, across, seed + 2, knit.Woven);
        var classes = Ranked(thickness, bucket, bareShares.Length + 1);
        return new(
            wales,
            courses,
            new ClassTile(across, down, scale.CellWidth, scale.CellHeight, classes),
            ReliefOf(across, down, wales, courses, soft, knit.Woven),
            seed,
            knit.Woven
        );
    }

    /// <summary>
    /// The stretch of tile under cell (x, y) of the print. Each repeat of the tile is turned by whole stitches, so the eye
    /// finds no repeat and stitches still join.
    /// </summary>
    /// <returns>Tile cell and how many cells to the right follow it in the tile.</returns>
    public (int X, int Y, int Run) At(int x, int y)
    {
        var (across, down) = (Classes.CellsAcross, Classes.CellsDown);
        var (blockX, blockY) = (FloorDiv(x, across), FloorDiv(y, down));
        var turn = SeededNoise.Hash(Seed, blockX, blockY);
        var (turnWales, turnCourses) = (turn % (ulong)(Wales / _repeat), (turn >> 32) % (ulong)(Courses / _repeat));
        var turnX = (int)Math.Round((double)turnWales * _repeat * across / Wales);
        var turnY = (int)Math.Round((double)turnCourses * _repeat * down / Courses);
        var inX = x - blockX * across;
        var tileX = (inX + turnX) % across;
        var tileY = (y - blockY * down + turnY) % down;
        return (tileX, tileY, Math.Min(across - tileX, across - inX));
    }

    private static int FloorDiv(int a, int b) => (int)Math.Floor(a / (double)b);

    /// <summary>Normal-like noise with a grain of a quarter wale, on the tile's cells, repeating without seams.</summary>
    private static float[] SoftNoise(int across, int down, double grain, ulong seed)
    {
        var noise = new float[across * down];
        for (var i = 0; i < noise.Length; i++)
            noise[i] = (float)(SeededNoise.Uniform(seed, i % across, i / across) - 0.5);
        var radius = Math.Max(1, (int)Math.Round(grain));
        for (var pass = 0; pass < 2; pass++)
            noise = BoxWrapped(noise, across, down, radius);
        double sum = 0;
        foreach (var v in noise)
            sum += v * v;
        var scale = (float)(1 / Math.Sqrt(sum / noise.Length));
        for (var i = 0; i < noise.Length; i++)
            noise[i] *= scale;
        return noise;
    }

    private static float[] BoxWrapped(float[] source, int across, int down, int radius)
    {
        var rows = new float[source.Length];
        for (var y = 0; y < down; y++)
        for (var x = 0; x < across; x++)
        {
            float sum = 0;
            for (var i = -radius; i <= radius; i++)
                sum += source[y * across + (x + i + across) % across];
            rows[y * across + x] = sum;
        }
        var result = new float[source.Length];
        for (var y = 0; y < down; y++)
        for (var x = 0; x < across; x++)
        {
            float sum = 0;
            for (var i = -radius; i <= radius; i++)
                sum += rows[(y + i + down) % down * across + x];
            result[y * across + x] = sum;
        }
        return result;
    }

    /// <summary>
    /// Fibres that stand through: hair-thin strokes that follow the legs of the stitches. Buckets cover exactly the shares.
    /// </summary>
    private static byte[] BareBuckets(
        int width,
        int height,
        int wales,
        ReadOnlySpan<double> shares,
        ulong seed,
        bool woven
    )
    {
        var buckets = new byte[width * height];
        if (shares.Length == 0)
            return buckets;
        var value = new ushort[buckets.Length];
        for (var x = 0; x < width; x++)
        {
            var lean =
                woven ? 0
                : (long)Math.Floor((x + 0.5) * wales * 2 / width) % 2 == 0 ? 1
                : -1;
            for (var y = 0; y < height; y++)
            {
                var along = x + lean * (y / 3);
                var single = SeededNoise.Hash(seed, along, (y + 5 * (along & 7)) / 11) >> 50;
                var tuft = SeededNoise.Hash(seed + 9, along >> 4, y / 40) >> 51;
                value[y * width + x] = (ushort)(3 * single + tuft / 4);
            }
        }
        var starts = Starts(value, _ => true);
        for (var i = 0; i < value.Length; i++)
        {
            var rank = starts[value[i]]++ / (double)value.Length;
            for (var b = shares.Length; b > 0; b--)
                if (rank < shares[b - 1])
                    buckets[i] = (byte)b;
        }
        return buckets;
    }

    private static ushort[] Thickness(
        int width,
        int height,
        PictureScale scale,
        int wales,
        int courses,
        float[] soft,
        int across,
        ulong seed,
        bool woven
    )
    {
        var thickness = new ushort[width * height];
        var valley = new float[width];
        var leg = new float[width];
        for (var x = 0; x < width; x++)
        {
            var u = wales * (x + 0.5) / width;
            valley[x] = (float)Math.Cos(2 * Math.PI * u);
            leg[x] = (float)(u - Math.Floor(u) - 0.5);
        }
        const int Phases = 256;
        var stitch = new float[Phases];
        for (var i = 0; i < Phases; i++)
            stitch[i] = (float)-Math.Cos(2 * Math.PI * i / Phases);
        for (var y = 0; y < height; y++)
        {
            var course = courses * (y + 0.5) / height;
            var softRow = soft.AsSpan(y / scale.CellHeight * across, across);
            for (var x = 0; x < width; x++)
            {
                var along = x + (leg[x] < 0 ? 1 : -1) * (y / 3);
                var yarn = Unit(SeededNoise.Hash(seed, along / 3, y / 12));
                var fibre = Unit(SeededNoise.Hash(seed + 1, along, y / 6));
                var loop = stitch[(int)((course + Math.Abs(leg[x])) * Phases) & (Phases - 1)];
                // Ink lies thick between threads and thin on top of them.
                var cloth = woven
                    ? -1.1f * (float)PlainWeave.Height(wales * (x + 0.5) / width, course)
                    : 0.9f * valley[x] + 0.6f * loop;
                var here = cloth + 0.6f * softRow[x / scale.CellWidth] + 0.6f * yarn + 0.6f * fibre;
                thickness[y * width + x] = (ushort)Math.Clamp(32768 + 6000 * here, 0, 65535);
            }
        }
        return thickness;
    }

    private static float Unit(ulong hash) => (hash >> 40) * (2f / (1 << 24)) - 1;

    /// <summary>Thickness classes of equal area within each bucket.</summary>
    private static byte[] Ranked(ushort[] thickness, byte[] bucket, int buckets)
    {
        var classes = new byte[thickness.Length];
        for (var b = 0; b < buckets; b++)
        {
            var wanted = (byte)b;
            var count = bucket.Count(v => v == wanted);
            if (count == 0)
                continue;
            var starts = Starts(thickness, i => bucket[i] == wanted);
            for (var i = 0; i < thickness.Length; i++)
                if (bucket[i] == wanted)
                    classes[i] = (byte)(
                        (long)starts[thickness[i]]++ * ThicknessSpread.Classes / count + ThicknessSpread.Classes * b
                    );
        }
        return classes;
    }

    /// <summary>Counting sort: the first rank of each value.</summary>
    private static int[] Starts(ushort[] values, Func<int, bool> counts)
    {
        var starts = new int[65536];
        for (var i = 0; i < values.Length; i++)
            if (counts(i))
                starts[values[i]]++;
        var sum = 0;
        for (var v = 0; v < starts.Length; v++)
            (starts[v], sum) = (sum, sum + starts[v]);
        return starts;
    }

    /// <summary>Stitches as seen on the face of jersey: two legs a wale, slanting to each other like a V, dark between wales.</summary>
    private static float[] ReliefOf(int across, int down, int wales, int courses, float[] soft, bool woven)
    {
        var relief = new float[across * down];
        double sum = 0;
        for (var y = 0; y < down; y++)
        for (var x = 0; x < across; x++)
        {
            var u = (x + 0.5) / across * wales;
            var inWale = u - Math.Floor(u) - 0.5;
            var v = (y + 0.5) / down * courses + 0.9 * Math.Abs(inWale);
            var leg = Math.Cos(2 * Math.PI * v);
            var gap = Math.Cos(2 * Math.PI * inWale);
            var cloth = woven ? PlainWeave.Height(u, (y + 0.5) / down * courses) : 0.45 * leg + 0.4 * gap;
            var value = cloth + 0.25 * soft[y * across + x];
            relief[y * across + x] = (float)value;
            sum += value;
        }
        var mean = (float)(sum / relief.Length);
        for (var i = 0; i < relief.Length; i++)
            relief[i] -= mean;
        return relief;
    }
}
