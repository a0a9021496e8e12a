using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// What tones of the four dyes look like on a cloth: areas of the sixteen overprints by [DEMICHEL-1924] (the screens are
/// independent), and light that spreads much further in the cloth than dots are wide, so that square roots add: the
/// limit n = 2 of the picture's own model (<see cref="CodeTable"/>). Colours relative to a perfect white, linear sRGB.
/// </summary>
internal sealed class DyeTones
{
    public const int Dyes = 4;

    private const int Codes = 1 << Dyes;

    private readonly double[] _roots;

    private DyeTones(double[] roots) => _roots = roots;

    public static DyeTones On(Ground ground, ImmutableArray<InkPass> passes, MethodPress method, PressSettings press)
    {
        var cloth = method.On(ground, passes, method.Settings(press), Deposit.Expected);
        var roots = new double[Codes * 3];
        for (var code = 0; code < Codes; code++)
        {
            var xyz = Tristimulus.Of(cloth.Solid((ulong)code), ViewingLight.D50);
            (roots[3 * code], roots[3 * code + 1], roots[3 * code + 2]) = (
                Math.Sqrt(xyz.X),
                Math.Sqrt(xyz.Y),
                Math.Sqrt(xyz.Z)
            );
        }
        return new(roots);
    }

    /// <summary>Tristimulus values D50 of printed tones 0..1 of cyan, magenta, yellow and black.</summary>
    public Xyz Of(ReadOnlySpan<double> tones)
    {
        double x = 0,
            y = 0,
            z = 0;
        for (var code = 0; code < Codes; code++)
        {
            var area = 1.0;
            for (var dye = 0; dye < Dyes; dye++)
                area *= (code >> dye & 1) != 0 ? tones[dye] : 1 - tones[dye];
            x += area * _roots[3 * code];
            y += area * _roots[3 * code + 1];
            z += area * _roots[3 * code + 2];
        }
        return new(x * x, y * y, z * z);
    }
}
