using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Metals;

/// <summary>
/// A metal by its complex refractive index n + ik. Silver, gold and copper from [JOHNSON-CHRISTY-1972], aluminium from
/// [RAKIC-1995], both as kept in the public domain (CC0) by the refractiveindex.info database; between table points linear.
/// </summary>
public sealed class Metal
{
    private readonly ImmutableArray<(double Nm, double N, double K)> _table;

    private Metal(string name, params ImmutableArray<(double Nm, double N, double K)> table) =>
        (Name, _table) = (name, table);

    public string Name { get; }

    public static Metal Aluminium { get; } =
        new(
            "aluminium",
            (364.66, 0.39877, 4.3957),
            (413.28, 0.52135, 5.0008),
            (442.80, 0.60790, 5.3676),
            (476.87, 0.72780, 5.7781),
            (516.60, 0.87340, 6.2418),
            (563.57, 1.0728, 6.7839),
            (619.93, 1.3660, 7.4052),
            (652.25, 1.5724, 7.7354),
            (688.81, 1.8301, 8.0601),
            (729.32, 2.1606, 8.3565),
            (774.91, 2.6154, 8.4914)
        );

    public static Metal Gold { get; } =
        Noble(
            "gold",
            [1.48, 1.46, 1.47, 1.46, 1.45, 1.38, 1.31, 1.04, 0.62, 0.43, 0.29, 0.21, 0.14, 0.13, 0.14],
            [1.895, 1.933, 1.952, 1.958, 1.948, 1.914, 1.849, 1.833, 2.081, 2.455, 2.863, 3.272, 3.697, 4.103, 4.542]
        );

    public static Metal Silver { get; } =
        Noble(
            "silver",
            [0.07, 0.05, 0.05, 0.05, 0.04, 0.04, 0.05, 0.05, 0.05, 0.06, 0.05, 0.06, 0.05, 0.04, 0.03],
            [1.657, 1.864, 2.070, 2.275, 2.462, 2.657, 2.869, 3.093, 3.324, 3.586, 3.858, 4.152, 4.483, 4.838, 5.242]
        );

    public static Metal Copper { get; } =
        Noble(
            "copper",
            [1.36, 1.33, 1.32, 1.28, 1.25, 1.24, 1.25, 1.22, 1.18, 1.02, 0.70, 0.30, 0.22, 0.21, 0.24],
            [1.975, 2.045, 2.116, 2.207, 2.305, 2.397, 2.483, 2.564, 2.608, 2.577, 2.704, 3.205, 3.747, 4.205, 4.665]
        );

    /// <summary>
    /// Reflectance for light straight on, ((n - n1)^2 + k^2)/((n + n1)^2 + k^2) (Fresnel's formula for an absorbing medium);
    /// <paramref name="outside"/> is the index of what lies on the metal, 1 for air, 1.5 under lacquer or in a binder.
    /// </summary>
    public Spectrum Reflectance(double outside = 1) =>
        Spectrum.From(nm =>
        {
            var (n, k) = At(nm);
            return ((n - outside) * (n - outside) + k * k) / ((n + outside) * (n + outside) + k * k);
        });

    private (double N, double K) At(double nm)
    {
        var i = 1;
        while (_table[i].Nm < nm)
            i++;
        var (low, high) = (_table[i - 1], _table[i]);
        var t = (nm - low.Nm) / (high.Nm - low.Nm);
        return (low.N + t * (high.N - low.N), low.K + t * (high.K - low.K));
    }

    // The wavelengths at which [JOHNSON-CHRISTY-1972] measured, 0.3679 to 0.7560 um.
    private static Metal Noble(string name, double[] n, double[] k)
    {
        double[] nm =
        [
            367.9,
            381.5,
            397.4,
            413.3,
            430.5,
            450.9,
            471.4,
            495.9,
            520.9,
            548.6,
            582.1,
            616.8,
            659.5,
            704.5,
            756.0,
        ];
        return new(name, [.. nm.Select((at, i) => (at, n[i], k[i]))]);
    }
}
