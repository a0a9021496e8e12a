namespace ProofDesk.Imaging.Colour;

/// <summary>
/// Oklab, [OTTOSSON-2020]: L 0..1 and two opponent axes with straight hue lines. CIELAB bends blue towards purple when
/// chroma is reduced; this space does not, so gamut mapping works in it.
/// </summary>
public readonly record struct Oklab(double L, double A, double B)
{
    // Linear sRGB to cone-like responses, and their cube roots to the opponent axes: the two tables of the source.
    private static readonly Matrix3 RgbToLms = new(
        new[,]
        {
            { 0.4122214708, 0.5363325363, 0.0514459929 },
            { 0.2119034982, 0.6806995451, 0.1073969566 },
            { 0.0883024619, 0.2817188376, 0.6299787005 },
        }
    );
    private static readonly Matrix3 RootsToLab = new(
        new[,]
        {
            { 0.2104542553, 0.7936177850, -0.0040720468 },
            { 1.9779984951, -2.4285922050, 0.4505937099 },
            { 0.0259040371, 0.7827717662, -0.8086757660 },
        }
    );

    // Inverted here rather than typed from the source, so that a round trip is exact.
    private static readonly Matrix3 LmsToRgb = RgbToLms.Inverse();
    private static readonly Matrix3 LabToRoots = RootsToLab.Inverse();

    public double Chroma => Math.Sqrt(A * A + B * B);

    public static Oklab FromLinear(LinearRgb rgb)
    {
        var (l, m, s) = ToCones(rgb);
        return FromRoots(Math.Cbrt(l), Math.Cbrt(m), Math.Cbrt(s));
    }

    /// <summary>The cone-like responses, linear in light.</summary>
    public static (double L, double M, double S) ToCones(LinearRgb rgb) => RgbToLms.Times(rgb.R, rgb.G, rgb.B);

    /// <summary>From the cube roots of the cone-like responses, linear in them.</summary>
    public static Oklab FromRoots(double l, double m, double s)
    {
        var (lightness, a, b) = RootsToLab.Times(l, m, s);
        return new(lightness, a, b);
    }

    public LinearRgb ToLinear()
    {
        var (l, m, s) = LabToRoots.Times(L, A, B);
        var (r, g, b) = LmsToRgb.Times(l * l * l, m * m * m, s * s * s);
        return new(r, g, b);
    }
}
