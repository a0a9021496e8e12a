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

    /// <summary>The name of an ink on a plate: a mixed one without what it is to match, unless two of a set would be called alike.</summary>
    public static string ShortName(Ink ink, IEnumerable<Ink> set)
    {
        var plain = Plain(ink);
        return set.Any(other => other.Id != ink.Id && Plain(other) == plain) ? ink.Name : plain;

        static string Plain(Ink ink) =>
            ink.Id.StartsWith(Prefix, StringComparison.Ordinal) ? ink.Name.Split(" (to match", 2)[0] : ink.Name;
    }

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
        var thick = LabFit.Solve([0, 0, 0], wanted, curve => OfReflectance(Curve(curve)));
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
            return Make(LabFit.Solve(thick, wanted, curve => printed(Make(curve, scatter))), scatter);
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
}
