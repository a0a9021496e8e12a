using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Separations;

/// <summary>Mixtures of two colours, and back.</summary>
internal static class Blend
{
    /// <summary>(1 - t) a + t b in linear light: what two areas side by side give, so the mixture of a halftone.</summary>
    public static LinearRgb Linear(LinearRgb a, LinearRgb b, double t) =>
        new(a.R + t * (b.R - a.R), a.G + t * (b.G - a.G), a.B + t * (b.B - a.B));

    /// <summary>The same in sRGB codes: what most drawing programs do at an antialiased edge.</summary>
    public static LinearRgb Codes(LinearRgb a, LinearRgb b, double t) =>
        Srgb.Decode(Code(a.R, b.R, t), Code(a.G, b.G, t), Code(a.B, b.B, t));

    private static double Code(double a, double b, double t)
    {
        var (p, q) = (Srgb.Encode(a), Srgb.Encode(b));
        return p + t * (q - p);
    }
}
