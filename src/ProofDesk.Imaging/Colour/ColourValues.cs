namespace ProofDesk.Imaging.Colour;

/// <summary>CIE 1931 tristimulus values, scaled so that the white of the viewing light has Y = 100.</summary>
public readonly record struct Xyz(double X, double Y, double Z)
{
    public static Xyz operator +(Xyz a, Xyz b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    public static Xyz operator *(double k, Xyz a) => new(k * a.X, k * a.Y, k * a.Z);
}

/// <summary>CIELAB 1976: L* 0..100, a* and b* unbounded (surface colours stay within about -130..130).</summary>
public readonly record struct Lab(double L, double A, double B)
{
    /// <summary>Chroma C*ab.</summary>
    public double Chroma => Math.Sqrt(A * A + B * B);
}

/// <summary>Linear-light sRGB primaries (IEC 61966-2-1), 1 = display white; may leave 0..1 before gamut mapping.</summary>
public readonly record struct LinearRgb(double R, double G, double B);

/// <summary>
/// The light a cloth is looked at under, and the observer: [CIE-15] 2 degree unless the name says 10. D50 is the profile
/// connection space and the graphic trade's light, D65 the textile trade's; A (a filament lamp) and F11 (a three-band
/// fluorescent tube, the "shop light") are its second lights, which textile laboratories take with the 10 degree observer.
/// </summary>
public enum ViewingLight
{
    D50,
    D65,
    A,
    F11,
    D65TenDegrees,
    ATenDegrees,
    F11TenDegrees,
}
