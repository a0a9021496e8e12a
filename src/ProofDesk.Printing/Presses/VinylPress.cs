using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Sheets cut by a knife and pressed on by hand, one colour after the other: nothing grows, no dot is lost, the thickness
/// is the sheet's own, but each layer lies where a hand put it.
/// </summary>
public sealed class VinylPress : MethodPress
{
    /// <summary>One sigma of a layer against the one below, x and y ([PHYSICS] 3.5: .5 to 1 mm, common practice).</summary>
    public const double RegisterSigmaMm = 0.5;

    public override PressSettings Settings(PressSettings shop) =>
        shop with
        {
            GrowthUm = 0,
            GrowthOnBaseUm = 0,
            GrowthNoiseUm = 0,
            SetUpSigmaMm = 0,
            PalletSigmaMm = 0,
            JitterSigmaMm = RegisterSigmaMm,
            Transfer = 1,
            WickedShare = 0,
            BareFibreFirstPass = 0,
            BareFibreOnBase = 0,
            ThicknessCvFirstPass = 0,
            ThicknessCvOnBase = 0,
        };

    /// <summary>The first layer is the one the others are laid against.</summary>
    public override int? RegisterOf(Separation separation, int plate) => plate == 0 ? null : plate;

    /// <summary>A sheet bridges the stitches.</summary>
    public override float ShadeOfInk => 0.012f;

    public override double FilmAboveClothUm(InkPass pass, PressSettings press) => pass.Ink.SheetUm;

    /// <summary>Weight of the sheet that stays on the garment.</summary>
    public override double Grams(double areaCm2, InkPass pass) =>
        areaCm2 / 10_000 * pass.Ink.SheetUm * pass.Ink.DensityGramsPerCm3;
}
