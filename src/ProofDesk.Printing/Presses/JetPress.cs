using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Print heads over pretreated cloth. No mesh: the amount is the heads' own, drops bleed a little into the cloth, white and
/// colours are two carriages that meet within a tenth of a millimetre while the four colours stay in register with each other.
/// </summary>
public sealed class JetPress : MethodPress
{
    // Bleed 10 to 15 um ([PHYSICS] 3.6), a little more on bare cloth than on white; white to colour .05 to .15 mm ([PHYSICS] 3.5):
    // sigma .07. The pretreatment holds the film up but fibres rise through it: judged by eye, between a screen's first
    // and second pass.
    public override PressSettings Settings(PressSettings shop) =>
        shop with
        {
            GrowthUm = 13,
            GrowthOnBaseUm = 11,
            GrowthNoiseUm = 1.5,
            SetUpSigmaMm = 0.06,
            PalletSigmaMm = 0,
            JitterSigmaMm = 0.04,
            BareFibreFirstPass = 0.05,
            BareFibreOnBase = 0.025,
            ThicknessCvFirstPass = 0.4,
            ThicknessCvOnBase = 0.3,
        };

    public override InkAction? ActionOf(Ink ink) => ink.Kind == InkKind.Jet ? Drops.Instance : base.ActionOf(ink);

    /// <summary>White is one carriage, the colours are another.</summary>
    public override int? RegisterOf(Separation separation, int plate) =>
        separation.Plates[plate].Purpose.IsBase ? 0 : 1;

    public override double Grams(double areaCm2, InkPass pass) =>
        areaCm2 / 10_000 * pass.Ink.JetMlPerM2 * pass.Ink.DensityGramsPerCm3 * pass.Strokes;

    /// <summary>No mesh meters it: the heads' own amount, as far as it stays on the cloth.</summary>
    public override double FilmAboveClothUm(InkPass pass, PressSettings press) =>
        FilmUm(pass.Ink, pass.Strokes, Deposit.Expected) * pass.Ink.SurfaceShare;

    /// <summary>Dry film of a full coverage, um (ml/m2 = um of wet ink).</summary>
    public static double FilmUm(Ink ink, int strokes, Deposit deposit) =>
        ink.JetMlPerM2 * ink.VolumeSolids * strokes * DepositModel.Factor(deposit);

    private sealed class Drops : InkAction
    {
        public static Drops Instance { get; } = new();

        public override PrintedStack Print(PrintedStack below, InkPlace at)
        {
            var ink = at.Pass.Ink;
            var sunk = below.IsSealed ? 0 : 1 - ink.SurfaceShare;
            var printed = below.With(
                at.Layer with
                {
                    FilmUm = FilmUm(ink, at.Pass.Strokes, at.Deposit),
                    InClothShare = sunk,
                    StainShare = Math.Max(DepositModel.FibreStain, 1 - ink.SurfaceShare),
                }
            );
            return ink.Role == InkRole.White ? printed with { IsSealed = true } : printed;
        }
    }
}
