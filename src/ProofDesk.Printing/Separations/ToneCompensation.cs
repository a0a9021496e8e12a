using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Physical dot growth as a tone curve (physics 1.15): a dot on film becomes all points within g um of it. The printed
/// tone follows from the geometry of one screen cell, drawn with 128 x 128 points and grown by exact distances; the film tone
/// that prints a wanted tone is the curve read backwards. Optical gain is not in it: the proof and the eye have
/// that from the light itself.
/// </summary>
public sealed class ToneCompensation
{
    private const int Points = 128;
    private const int Levels = 64;

    // Printed tone for film tones 0, 1/64 .. 1.
    private readonly double[] _printed = new double[Levels + 1];

    /// <param name="linesPerInch">Ruling of the screen; period = 25400 um / lpi.</param>
    /// <param name="growthUm">How far ink grows over the edge of its dot.</param>
    public ToneCompensation(double linesPerInch, double growthUm, DotShape dot)
    {
        if (!(linesPerInch > 0) || !(growthUm >= 0))
            throw new ArgumentException(
                $"a ruling of {linesPerInch} lpi and a growth of {growthUm} um do not make dots"
            );
        var periodUm = 25400 / linesPerInch;
        var growth = growthUm / periodUm * Points;
        var order = Order(dot);
        RowLoop.RunBands(
            Levels + 1,
            8,
            (first, count) =>
            {
                for (var level = first; level < first + count; level++)
                    _printed[level] = Grown(order, level * Points * Points / Levels, growth);
            }
        );
        // No growth is no growth, to the last digit.
        if (growthUm == 0)
            for (var level = 0; level <= Levels; level++)
                _printed[level] = (double)level / Levels;
    }

    private ToneCompensation(double[] printed) => _printed = printed;

    /// <summary>The same for stochastic dots of one size: a piece of the tile is grown at each tone.</summary>
    public static ToneCompensation Stochastic(double dotUm, double growthUm)
    {
        if (!(dotUm > 0) || !(growthUm >= 0))
            throw new ArgumentException($"dots of {dotUm} um and a growth of {growthUm} um do not print");
        var growth = growthUm / dotUm * StochasticDots.FineSteps;
        var printed = new double[Levels + 1];
        RowLoop.RunBands(
            Levels + 1,
            8,
            (first, count) =>
            {
                for (var level = first; level < first + count; level++)
                    printed[level] =
                        growth == 0 ? (double)level / Levels : StochasticDots.Grown((double)level / Levels, growth);
            }
        );
        return new(printed);
    }

    /// <summary>Printed tone of a film tone, both 0..1.</summary>
    public double Printed(double film)
    {
        var at = Math.Clamp(film, 0, 1) * Levels;
        var i = Math.Min(Levels - 1, (int)at);
        return _printed[i] + (at - i) * (_printed[i + 1] - _printed[i]);
    }

    /// <summary>Film tone that prints a wanted tone, both 0..1; solid where even the largest open hole would close.</summary>
    public double Film(double wanted)
    {
        if (wanted <= 0)
            return 0;
        if (wanted >= 1)
            return 1;
        for (var i = 0; i < Levels; i++)
            if (_printed[i + 1] >= wanted)
                return (i + (wanted - _printed[i]) / (_printed[i + 1] - _printed[i])) / Levels;
        return 1;
    }

    /// <summary>The smallest tone whose dots this mesh holds: a round dot of diameter 2 d + w (physics 1.13).</summary>
    public static double SmallestHeldTone(Mesh mesh, double linesPerInch)
    {
        var period = 25400 / linesPerInch;
        return Math.Min(1, Math.PI / 4 * Math.Pow(mesh.SafeFeatureUm / period, 2));
    }

    private static double Grown(int[] order, int ink, double growth)
    {
        if (ink == 0)
            return 0;
        var halo = (int)Math.Ceiling(growth) + 1;
        var size = Points + 2 * halo;
        var cell = new byte[Points * Points];
        for (var i = 0; i < ink; i++)
            cell[order[i]] = 255;
        var tiled = new BytePlane(size, size);
        for (var y = 0; y < size; y++)
        for (var x = 0; x < size; x++)
            tiled[x, y] = cell[Wrap(y - halo) * Points + Wrap(x - halo)];
        var distances = DistanceField.ToInk(tiled, limit: halo);
        var covered = 0.0;
        for (var y = halo; y < halo + Points; y++)
        for (var x = halo; x < halo + Points; x++)
        {
            var distance = distances[y * size + x];
            // The edge lies half a point before the first blank one; the last point is covered in part.
            covered += distance == 0 ? 1 : Math.Clamp(growth - distance + 1, 0, 1);
        }
        return covered / (Points * Points);
    }

    private static int Wrap(int i) => (i % Points + Points) % Points;

    /// <summary>Points of the cell in the order in which a growing dot takes them.</summary>
    private static int[] Order(DotShape dot)
    {
        var order = new int[Points * Points];
        var height = new double[Points * Points];
        for (var i = 0; i < order.Length; i++)
        {
            var (x, y) = (2.0 * (i % Points + 0.5) / Points - 1, 2.0 * (i / Points + 0.5) / Points - 1);
            order[i] = i;
            height[i] = dot.InkOrder(x, y);
        }
        Array.Sort(height, order);
        return order;
    }
}
