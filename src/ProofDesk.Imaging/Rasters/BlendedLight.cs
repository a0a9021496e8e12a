using System.Runtime.Intrinsics;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// How the numbers of a <see cref="CornerBlend"/> look when lanes 0 to 2 are light (X, Y, Z, white at 1) and lanes 4 to 6 the roots of
/// light of which a share adds its square: Oklab [OTTOSSON-2020], and its slope along each axis. <see cref="PlainAt"/> is the
/// judge.
/// </summary>
public static class BlendedLight
{
    /// <summary>Darker than this, as a response of a cone, is not told apart: the root has no slope at nothing.</summary>
    private const double Least = 1e-6;

    /// <summary>Oklab times <paramref name="scale"/>.</summary>
    /// <param name="share">Of the squares of lanes 4 to 6.</param>
    public static (double L, double A, double B) Seen(ReadOnlySpan<float> value, double share, double scale)
    {
        var (low, high) = Halves(value);
        return Seen(Roots(low + Vector256.Create(share) * high * high), scale);
    }

    /// <summary>The same, and its slopes: one run of <paramref name="stride"/> numbers for each of the three, an axis each.</summary>
    /// <param name="slopes">Of the blend, <see cref="CornerBlend.Lanes"/> numbers an axis.</param>
    public static (double L, double A, double B) Seen(
        ReadOnlySpan<float> value,
        ReadOnlySpan<float> slopes,
        double share,
        double scale,
        Span<double> seenSlopes,
        int stride
    )
    {
        var (low, high) = Halves(value);
        var roots = Roots(low + Vector256.Create(share) * high * high);
        // Chain rule: the three matrices between light and Oklab are one at this point.
        var inner = Vector256.Create(scale / 3) / (roots * roots);
        var (ofX, ofY, ofZ) = (Opponents(inner * ConesOfX), Opponents(inner * ConesOfY), Opponents(inner * ConesOfZ));
        var squares = Vector256.Create(2 * share) * high;
        unchecked
        {
            for (int axis = 0, at = 0; at < slopes.Length; axis++, at += CornerBlend.Lanes)
            {
                var (slope, ofRoot) = Halves(slopes[at..]);
                var light = slope + squares * ofRoot;
                var seen = light[0] * ofX + light[1] * ofY + light[2] * ofZ;
                seenSlopes[axis] = seen[0];
                seenSlopes[stride + axis] = seen[1];
                seenSlopes[2 * stride + axis] = seen[2];
            }
        }
        return Seen(roots, scale);
    }

    /// <summary>Without vectors, and slopes of one axis where asked for.</summary>
    internal static (double L, double A, double B) PlainAt(
        ReadOnlySpan<float> value,
        ReadOnlySpan<float> slope,
        double share,
        double scale
    )
    {
        Span<double> light = stackalloc double[3];
        Span<double> step = stackalloc double[3];
        for (var i = 0; i < 3; i++)
        {
            light[i] = value[i] + share * value[4 + i] * value[4 + i];
            step[i] = slope.IsEmpty ? 0 : slope[i] + 2 * share * value[4 + i] * slope[4 + i];
        }
        var (l, m, s) = Cones(light[0], light[1], light[2]);
        var (rl, rm, rs) = (Root(l), Root(m), Root(s));
        if (!slope.IsEmpty)
        {
            (l, m, s) = Cones(step[0], step[1], step[2]);
            (rl, rm, rs) = (l / (3 * rl * rl), m / (3 * rm * rm), s / (3 * rs * rs));
        }
        var seen = Oklab.FromRoots(rl, rm, rs);
        return (scale * seen.L, scale * seen.A, scale * seen.B);

        static double Root(double response) => Math.Cbrt(Math.Max(response, Least));
    }

    private static (Vector256<double> Low, Vector256<double> High) Halves(ReadOnlySpan<float> numbers) =>
        Vector256.Widen(Vector256.Create(numbers));

    private static Vector256<double> Roots(Vector256<double> light) =>
        CubeRoot(
            Vector256.Max(light[0] * ConesOfX + light[1] * ConesOfY + light[2] * ConesOfZ, Vector256.Create(Least))
        );

    private static (double L, double A, double B) Seen(Vector256<double> roots, double scale)
    {
        var seen = Vector256.Create(scale) * Opponents(roots);
        return (seen[0], seen[1], seen[2]);
    }

    private static Vector256<double> Opponents(Vector256<double> roots) =>
        roots[0] * OpponentsOfL + roots[1] * OpponentsOfM + roots[2] * OpponentsOfS;

    /// <summary>
    /// A third of the exponent first (within 4 %), then Halley's method twice, which triples the digits each time. Positive
    /// numbers that a float holds; the same on every machine, which a library's root is not.
    /// </summary>
    internal static Vector256<double> CubeRoot(Vector256<double> x)
    {
        unchecked
        {
            // Bits of a float read as a whole number are its logarithm but for scale and offset.
            var bits = Vector256.Narrow(x, x).GetLower().AsInt32();
            var third = Vector128.ConvertToInt32(Vector128.ConvertToSingle(bits) * (1 / 3f));
            var guess = (third + Vector128.Create(TwoThirdsOfBias)).AsSingle();
            var root = Vector256.Create(Vector128.WidenLower(guess), Vector128.WidenUpper(guess));
            for (var i = 0; i < 2; i++)
            {
                var cube = root * root * root;
                root *= (cube + x + x) / (cube + cube + x);
            }
            return root;
        }
    }

    // Two thirds of 127 x 2^23, less what makes the error the same on both sides.
    private const int TwoThirdsOfBias = 709921077;

    private static (double L, double M, double S) Cones(double x, double y, double z) =>
        Oklab.ToCones(Srgb.FromXyz(new(100 * x, 100 * y, 100 * z), ViewingLight.D65));

    // Both steps to Oklab are linear, so unit stimuli give their matrices.
    private static readonly Vector256<double> ConesOfX = Column(Cones(1, 0, 0));
    private static readonly Vector256<double> ConesOfY = Column(Cones(0, 1, 0));
    private static readonly Vector256<double> ConesOfZ = Column(Cones(0, 0, 1));
    private static readonly Vector256<double> OpponentsOfL = Column(Oklab.FromRoots(1, 0, 0));
    private static readonly Vector256<double> OpponentsOfM = Column(Oklab.FromRoots(0, 1, 0));
    private static readonly Vector256<double> OpponentsOfS = Column(Oklab.FromRoots(0, 0, 1));

    private static Vector256<double> Column((double A, double B, double C) v) => Vector256.Create(v.A, v.B, v.C, 0);

    private static Vector256<double> Column(Oklab v) => Vector256.Create(v.L, v.A, v.B, 0);
}
