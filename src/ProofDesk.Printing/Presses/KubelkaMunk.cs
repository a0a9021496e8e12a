namespace ProofDesk.Printing.Presses;

/// <summary>Reflectance over black and transmittance of a layer, both 0..1.</summary>
public readonly record struct Layer(double R0, double T)
{
    /// <summary>A layer that is not there.</summary>
    public static Layer Nothing { get; } = new(0, 1);

    /// <summary>Reflectance over an opaque backing: R0 + T^2 Rg / (1 - R0 Rg), [KUBELKA-1954] equation for a stack.</summary>
    public double Over(double backing) => R0 + T * T * backing / (1 - R0 * backing);
}

/// <summary>
/// The two-flux theory of turbid layers, [KUBELKA-MUNK-1931] and the hyperbolic solutions of [KUBELKA-1948]. K and S per
/// micrometre, thickness X in micrometres, diffuse light, no interface (see <see cref="Saunderson"/>).
/// </summary>
public static class KubelkaMunk
{
    // Below these the hyperbolic form loses digits and the limits are exact to double precision.
    private const double Clear = 1e-12;
    private const double PureScatter = 1e-9;

    /// <summary>
    /// R0 = sinh(bSX)/D, T = b/D, D = a sinh(bSX) + b cosh(bSX), a = 1 + K/S, b = sqrt(a^2 - 1), [KUBELKA-1948] equations
    /// 20 and 22. Numerator and denominator are multiplied by 2 exp(-bSX), so that no thickness overflows.
    /// </summary>
    public static Layer Layer(double k, double s, double x)
    {
        if (s * x < Clear)
            return new(0, Math.Exp(-k * x));
        if (k < PureScatter * s)
            return new(s * x / (1 + s * x), 1 / (1 + s * x));
        var a = 1 + k / s;
        // a^2 - 1 = (K/S)(K/S + 2) without the cancellation near a = 1.
        var b = Math.Sqrt(k / s * (k / s + 2));
        var once = Math.Exp(-b * s * x);
        var twice = once * once;
        var d = a * (1 - twice) + b * (1 + twice);
        return new((1 - twice) / d, 2 * b * once / d);
    }

    /// <summary>Reflectance of an endless layer: 1 + K/S - sqrt((K/S)^2 + 2 K/S), [KUBELKA-MUNK-1931].</summary>
    public static double Rinf(double ks) => 1 / (1 + ks + Math.Sqrt(ks * (ks + 2)));

    /// <summary>K/S = (1 - Rinf)^2 / (2 Rinf), the inverse of <see cref="Rinf"/>.</summary>
    public static double Ks(double rinf) => (1 - rinf) * (1 - rinf) / (2 * rinf);

    /// <summary>
    /// An upper layer on a lower one, [KUBELKA-1954]: R = R1 + T1^2 R2 / (1 - R1 R2), T = T1 T2 / (1 - R1 R2). The upper one must
    /// be a single uniform layer, for which both faces reflect alike; a combined stack reflects differently from below,
    /// so stacks are built from the bottom up.
    /// </summary>
    public static Layer On(this Layer upper, Layer lower)
    {
        var between = 1 - upper.R0 * lower.R0;
        return new(upper.R0 + upper.T * upper.T * lower.R0 / between, upper.T * lower.T / between);
    }
}
