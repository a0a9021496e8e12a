using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Metals;

namespace ProofDesk.Printing.Inks;

/// <summary>Metallic plastisols: flakes in a clear or tinted binder ([PHYSICS] 1.11, 3.2). Generic names, no maker's.</summary>
public static class MetallicInks
{
    /// <summary>Flakes of the usual metallic inks, um; 25 to 60 in practice.</summary>
    private const double UsualFlakeUm = 40;

    private const string Source =
        "default of the trade: published optical constants of the metal, flakes and tint assumed, no measurement behind it; print a sample to judge it";

    public static ImmutableArray<Ink> All { get; } =
    [
        Of("silver", "Metallic silver", Metal.Aluminium, MetalFinish.Clear, UsualFlakeUm),
        Of("gold", "Metallic gold", Metal.Aluminium, MetalFinish.Golden, UsualFlakeUm),
        Of(
            "pale-gold",
            "Metallic pale gold",
            Metal.Aluminium,
            Spectrum.Combine(MetalFinish.Golden, MetalFinish.Clear, (g, c) => (g + c) / 2),
            UsualFlakeUm
        ),
        Of("copper", "Metallic copper", Metal.Copper, MetalFinish.Coppery, 45),
        Of("bronze", "Metallic bronze", Metal.Aluminium, MetalFinish.Bronze, 45),
        Of("red", "Metallic red", Metal.Aluminium, MetalFinish.Red, UsualFlakeUm),
        Of("blue", "Metallic blue", Metal.Aluminium, MetalFinish.Blue, UsualFlakeUm),
        Of("green", "Metallic green", Metal.Aluminium, MetalFinish.Green, UsualFlakeUm),
    ];

    private static Ink Of(string colour, string name, Metal metal, Spectrum tint, double flakeUm) =>
        new(
            "metallic-" + colour,
            name,
            InkKind.Metallic,
            InkRole.Colour,
            // Never a Kubelka-Munk film: MetallicAction takes the flakes instead. Of a clear binder, so that nothing divides by nothing.
            Spectrum.Flat(1e-6),
            Spectrum.Flat(1e-6),
            OpticalConvention.Film,
            1,
            1.3,
            1,
            DataClass.C,
            Source
        )
        {
            Finish = new(metal, tint, flakeUm),
        };
}
