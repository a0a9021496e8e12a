using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// An ink that is to be mixed to match the art's colour. Its reflectance as a thick film is the smooth curve of Jakob
/// and Hanika 2019 (a sigmoid of a quadratic in the wavelength). Its scattering is that of the nearest library ink with a
/// share of the white's, as a mixed ink gets it from the white in the mix: the duller or paler the colour, the more
/// (a grey is white and black; a pure red has next to none). K follows from both. The three numbers of the curve are found so
/// that the ink, printed where it has to work hardest, has the wanted colour (Levenberg-Marquardt); among several shares
/// of white the one that is also nearest on the other cloths is taken. This predicts; it is not a formula: the supplier
/// mixes the ink.
/// </summary>
internal static class AssumedInk
{
    public const string Prefix = "mix-";

    /// <summary>Scattering of the mix as a share of the white ink's.</summary>
    private static readonly double[] SharesOfWhite = [0.06, 0.12, 0.25, 0.45, 0.7];

    /// <summary>A miss elsewhere counts so much of one on the hardest ground.</summary>
    private const double Elsewhere = 0.4;

    /// <param name="printed">Lab of a solid of an ink on the most demanding ground.</param>
    /// <param name="missElsewhere">Mean CIEDE2000 from the wanted colour on the other grounds.</param>
    public static Ink For(
        string hex,
        string name,
        Lab wanted,
        Ink nearest,
        Ink white,
        Func<Ink, Lab> printed,
        Func<Ink, double> missElsewhere
    )
    {
        // A thick film first: near enough for the second search to start in the right valley.
        var thick = Fit([0, 0, 0], wanted, curve => OfReflectance(Curve(curve)));
        return SharesOfWhite
            .Select(Matched)
            .MinBy(ink => Ciede2000.Difference(printed(ink), wanted) + Elsewhere * missElsewhere(ink))!;

        Ink Matched(double share)
        {
            var scatter = Spectrum.Combine(
                nearest.ScatteringPerUm,
                white.ScatteringPerUm,
                (own, ofWhite) => Math.Max(Math.Min(own, ofWhite), share * ofWhite)
            );
            return Make(Fit(thick, wanted, curve => printed(Make(curve, scatter))), scatter);
        }

        Ink Make(double[] curve, Spectrum scatter) =>
            nearest with
            {
                Id = Prefix + hex.TrimStart('#'),
                Name = name,
                Role = InkRole.Colour,
                ScatteringPerUm = scatter,
                AbsorptionPerUm = Spectrum.Combine(
                    Curve(curve),
                    scatter,
                    (r, s) => s * KubelkaMunk.Ks(Math.Clamp(Saunderson.Internal(r, nearest.Convention), 0.003, 0.999))
                ),
                DataClass = DataClass.C,
                Source =
                    $"spectrum assumed from the art's colour {hex}; mix to match, the supplier's formula is needed",
            };
    }

    /// <summary>Reflectance 1/2 + x / (2 sqrt(1 + x^2)), x = c0 + c1 t + c2 t^2, t = -1..1 over 400..700 nm.</summary>
    private static Spectrum Curve(double[] c) =>
        Spectrum.From(nm =>
        {
            var t = (nm - 550) / 150;
            var x = c[0] + t * (c[1] + t * c[2]);
            // A little surface reflection stays; below it no film goes.
            return 0.013 + 0.975 * (0.5 + x / (2 * Math.Sqrt(1 + x * x)));
        });

    private static Lab OfReflectance(Spectrum r) =>
        CieLab.FromXyz(Tristimulus.Of(r, ViewingLight.D50), ViewingLight.D50);

    private static double[] Fit(double[] start, Lab wanted, Func<double[], Lab> model)
    {
        var best = start;
        var off = Off(model(best), wanted);
        var damping = 0.1;
        for (var round = 0; round < 40 && Square(off) > 0.01; round++)
        {
            var (normal, gradient) = Normal(best, off, wanted, model);
            for (var i = 0; i < 3; i++)
                normal[i, i] += damping * (normal[i, i] + 1e-3);
            var step = Solve(normal, gradient);
            var next = new double[3];
            for (var i = 0; i < 3; i++)
                next[i] = Math.Clamp(best[i] - step[i], -60, 60);
            var nextOff = Off(model(next), wanted);
            if (Square(nextOff) < Square(off))
                (best, off, damping) = (next, nextOff, Math.Max(1e-6, damping / 4));
            else if ((damping *= 5) > 1e6)
                break;
        }
        return best;
    }

    private static (double[,] Normal, double[] Gradient) Normal(
        double[] at,
        double[] off,
        Lab wanted,
        Func<double[], Lab> model
    )
    {
        var slopes = new double[3][];
        for (var i = 0; i < 3; i++)
        {
            var moved = (double[])at.Clone();
            var step = 1e-3 * (1 + Math.Abs(at[i]));
            moved[i] += step;
            var there = Off(model(moved), wanted);
            slopes[i] = [(there[0] - off[0]) / step, (there[1] - off[1]) / step, (there[2] - off[2]) / step];
        }
        var normal = new double[3, 3];
        var gradient = new double[3];
        for (var i = 0; i < 3; i++)
        {
            gradient[i] = Dot(slopes[i], off);
            for (var j = 0; j < 3; j++)
                normal[i, j] = Dot(slopes[i], slopes[j]);
        }
        return (normal, gradient);
    }

    private static double[] Off(Lab a, Lab b) => [a.L - b.L, a.A - b.A, a.B - b.B];

    private static double Square(double[] v) => Dot(v, v);

    private static double Dot(double[] a, double[] b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

    /// <summary>Cramer's rule.</summary>
    private static double[] Solve(double[,] m, double[] v)
    {
        double Det(int column) // with this column replaced by v; -1: none
        {
            double At(int r, int c) => c == column ? v[r] : m[r, c];
            return At(0, 0) * (At(1, 1) * At(2, 2) - At(1, 2) * At(2, 1))
                - At(0, 1) * (At(1, 0) * At(2, 2) - At(1, 2) * At(2, 0))
                + At(0, 2) * (At(1, 0) * At(2, 1) - At(1, 1) * At(2, 0));
        }
        var whole = Det(-1);
        return Math.Abs(whole) < 1e-300 ? [0, 0, 0] : [Det(0) / whole, Det(1) / whole, Det(2) / whole];
    }
}
