namespace ProofDesk.Printing.Presses;

/// <summary>
/// Where the Saunderson coefficients come from: Fresnel's reflection of unpolarised light at the surface of a film with
/// refractive index n, for one direction and averaged over diffuse light, as tabulated by [JUDD-1942].
/// </summary>
public static class Fresnel
{
    private const int Steps = 20000;

    /// <summary>k1 for light straight on: ((n - 1)/(n + 1))^2.</summary>
    public static double Normal(double n) => (n - 1) * (n - 1) / ((n + 1) * (n + 1));

    /// <summary>Reflection of diffuse light coming from air.</summary>
    public static double DiffuseFromAir(double n) => Diffuse(1, n);

    /// <summary>k2: reflection of diffuse light coming from inside the film; beyond the critical angle all of it.</summary>
    public static double DiffuseFromInside(double n) => Diffuse(n, 1);

    // Lambertian mean: integral of R(theta) 2 sin cos d(theta) = integral of R over s = sin^2(theta), midpoint rule.
    private static double Diffuse(double from, double to)
    {
        var sum = 0.0;
        for (var i = 0; i < Steps; i++)
            sum += Reflectance(from, to, (i + 0.5) / Steps);
        return sum / Steps;
    }

    private static double Reflectance(double from, double to, double sineSquared)
    {
        var refracted = sineSquared * from * from / (to * to);
        if (refracted >= 1)
            return 1;
        var (c1, c2) = (Math.Sqrt(1 - sineSquared), Math.Sqrt(1 - refracted));
        var s = (from * c1 - to * c2) / (from * c1 + to * c2);
        var p = (from * c2 - to * c1) / (from * c2 + to * c1);
        return (s * s + p * p) / 2;
    }
}
