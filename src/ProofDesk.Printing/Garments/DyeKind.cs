using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Garments;

/// <summary>
/// A kind of textile dye by its chemistry: where it absorbs, which fibre holds it and how much of it a strong discharge
/// leaves. Residual shares are the middle of the ranges of common practice ([PHYSICS] 1.9); the shapes of absorption are
/// those of pigments of the same hue (a proposal, data class C).
/// </summary>
/// <param name="Id">Name in garment files, e.g. "azo-reactive-red".</param>
/// <param name="KsShape">Relative K/S, its peak 1.</param>
/// <param name="OnPolyester">Held by polyester (disperse dyes), otherwise by cellulose.</param>
/// <param name="ResidualShare">Usual share that the strongest discharge leaves.</param>
public sealed record DyeKind(string Id, string Name, Spectrum KsShape, bool OnPolyester, double ResidualShare)
{
    /// <summary>All kinds that a garment file may name.</summary>
    public static ImmutableArray<DyeKind> All { get; } =
    [
        Cellulose("vinyl-sulphone-black", "vinyl sulphone black", Pigment.Black.K, 0.01),
        Cellulose("azo-reactive-yellow", "azo reactive yellow", Pigment.Yellow.K, 0.005),
        Cellulose("azo-reactive-orange", "azo reactive orange", Pigment.Orange.K, 0.005),
        Cellulose("azo-reactive-red", "azo reactive red", Pigment.Red.K, 0.01),
        Cellulose("azo-reactive-violet", "azo reactive violet", Pigment.Violet.K, 0.02),
        Cellulose("azo-reactive-navy", "azo reactive navy", Navy(), 0.01),
        Cellulose("anthraquinone-blue", "anthraquinone blue", Pigment.Blue.K, 0.6),
        Cellulose("phthalocyanine-turquoise", "phthalocyanine turquoise", Turquoise(), 0.7),
        Cellulose("phthalocyanine-green", "phthalocyanine green", Pigment.Green.K, 0.7),
        Cellulose("sulphur-black", "sulphur black", Pigment.Black.K, 0.7),
        Cellulose("pigment-dyed", "pigment dyeing", Pigment.Black.K, 0.8),
        Polyester("disperse-black", "disperse black", Pigment.Black.K),
        Polyester("disperse-red", "disperse red", Pigment.Magenta.K),
        Polyester("disperse-blue", "disperse blue", Pigment.Blue.K),
        Polyester("disperse-yellow", "disperse yellow", Pigment.Yellow.K),
    ];

    /// <summary>The kind with this identifier, or null.</summary>
    public static DyeKind? Find(string id) => All.FirstOrDefault(d => d.Id == id);

    private static DyeKind Cellulose(string id, string name, Spectrum shape, double residual) =>
        new(id, name, PeakOne(shape), false, residual);

    // Discharge leaves disperse dyes in polyester as they are.
    private static DyeKind Polyester(string id, string name, Spectrum shape) => new(id, name, PeakOne(shape), true, 1);

    private static Spectrum PeakOne(Spectrum shape)
    {
        var peak = shape.Values.ToArray().Max();
        return shape.Map(v => v / peak);
    }

    // The two close bands in the red that phthalocyanines in solution have, and nothing else (from memory).
    private static Spectrum Turquoise() =>
        Spectrum.From(nm =>
            0.004 + Math.Exp(-Math.Pow((nm - 630) / 35, 2) / 2) + Math.Exp(-Math.Pow((nm - 670) / 30, 2) / 2)
        );

    // A navy is a deep violet-blue: absorbs everywhere, most in the orange.
    private static Spectrum Navy() => Spectrum.From(nm => 0.45 + 0.55 * Math.Exp(-Math.Pow((nm - 600) / 70, 2) / 2));
}
