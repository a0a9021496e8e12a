using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// A shop's ink when all it has is the Lab of a solid on white cloth ([PHYSICS] 4.3, last lines). Absorption and scattering keep
/// the shape of the nearest default ink; one load scales both, a tilt and a bend of the absorption over the wavelengths make the
/// printed colour the measured one. How well it hides is assumed: data class B.
/// </summary>
public static class LabInk
{
    /// <summary>A miss that nobody sees.</summary>
    private const double Met = 0.5;

    private const int Candidates = 4;

    /// <param name="plain">The ink apart from its optics.</param>
    /// <param name="mesh">The mesh the solid was printed through, one pass.</param>
    public static InkReading Of(Lab solid, ViewingLight light, Mesh mesh, Ink plain, string file, int line)
    {
        Lab Printed(Ink ink) => InkSwatch.Printed(ink, InkSwatch.WhiteCloth, mesh, light);
        Ink? best = null;
        var (least, nearest) = (double.MaxValue, "");
        var shelf = InkLibrary
            .OfKind(plain.Kind)
            .OrderBy(ink => plain.Role != InkRole.Colour && ink.Role != plain.Role)
            .ThenBy(ink => Ciede2000.Difference(Printed(ink), solid))
            .Take(Candidates);
        foreach (var near in shelf)
        {
            var three = LabFit.Solve([0, 0, 0], solid, c => Printed(Bent(plain, near, c)));
            var ink = Bent(plain, near, three);
            var off = Ciede2000.Difference(Printed(ink), solid);
            if (off < least)
                (best, least, nearest) = (ink, off, near.Name);
            // The nearest default that gets there keeps the likeliest shape.
            if (least <= Met)
                break;
        }
        if (best is null || least > Met)
        {
            var there = best is null ? solid : Printed(best);
            return InkReading.Failed(
                new InkProblem(
                    "lab-not-reached",
                    file,
                    line,
                    "lab",
                    FormattableString.Invariant(
                        $"no ink prints {solid.L:0.0} {solid.A:0.0} {solid.B:0.0} on white cloth through mesh {mesh.Label}: the nearest is {there.L:0.0} {there.A:0.0} {there.B:0.0}, {least:0.0} dE00 away; see whether L*, a*, b*, the light and the mesh are right, or measure over black and white"
                    )
                )
            );
        }
        var warnings = new List<string>
        {
            $"from one Lab on white cloth: how well the ink hides is that of our default \"{nearest}\"; a film over black and white would measure it",
        };
        if (solid.L > 85 && solid.Chroma < 12)
            warnings.Add(
                "a white or very pale solid on white cloth says next to nothing about hiding: measure it over black too"
            );
        return new(
            best with
            {
                DataClass = DataClass.B,
                Source = FormattableString.Invariant(
                    $"the shop's own Lab {solid.L:0.##} {solid.A:0.##} {solid.B:0.##} ({light}) of a solid on white cloth, mesh {mesh.Label}; shape of the default \"{nearest}\""
                ),
            },
            [],
            [.. warnings]
        );
    }

    // K x exp(c0 + c1 t + c2 (t^2 - 1/3)), S x exp(c0), t = -1..1 over 400..700 nm. The three terms pull mostly on lightness,
    // yellow to blue, and green to red.
    private static Ink Bent(Ink plain, Ink near, double[] c)
    {
        var bend = Spectrum.From(nm =>
        {
            var t = (nm - 550) / 150;
            return Math.Exp(Math.Clamp(c[0] + c[1] * t + c[2] * (t * t - 1.0 / 3), -12, 12));
        });
        var load = Math.Exp(Math.Clamp(c[0], -6, 6));
        return plain with
        {
            AbsorptionPerUm = Spectrum.Combine(near.AbsorptionPerUm, bend, (k, b) => k * b),
            ScatteringPerUm = near.ScatteringPerUm.Map(s => s * load),
        };
    }
}
