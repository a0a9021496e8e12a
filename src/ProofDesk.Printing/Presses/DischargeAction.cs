using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Discharge ink on a place: it takes dye out of the cloth by its wet deposit, then its pigment lies in the paler cloth as
/// water-based pigment does. The liquid spreads in the fibres before heat makes it work, so that dye goes evenly
/// where the pigment is mottled (a modelling choice). It does nothing through ink that seals the cloth. A second pass on
/// the same place adds to the deposit; it does not begin again with the dye that resisted the first.
/// </summary>
internal sealed class DischargeAction : InkAction
{
    public static DischargeAction Instance { get; } = new();

    public override PrintedStack Print(PrintedStack below, InkPlace at)
    {
        if (below.IsSealed)
            return below.With(at.Layer);
        // What soaks in lies evener than a film that bridges the stitches: as even as one on a base (a proposal).
        var pigment = at.Layer with
        {
            Spread = ThicknessSpread.Gamma(at.Press.ThicknessCvOnBase),
        };
        if (Discharge.Reaches(below.Unprinted.Colour))
        {
            var wet = below.DischargeCm3PerM2 + WetDeposit(at.Pass, at.Press, at.Deposit);
            below = below.OnCloth(Discharge.Cloth(below.Unprinted.Colour, wet, Strength(at.Deposit))) with
            {
                DischargeCm3PerM2 = wet,
            };
        }
        return pigment.FilmUm > 0 ? below.With(pigment) : below;
    }

    /// <summary>Wet ink of one pass, cm3/m2: theoretical volume x transfer, more with a second stroke.</summary>
    public static double WetDeposit(InkPass pass, PressSettings press, Deposit deposit) =>
        pass.Mesh.TheoreticalInkVolume
        * press.Transfer
        * (1 + DepositModel.ExtraStroke * (pass.Strokes - 1))
        * DepositModel.Factor(deposit);

    /// <summary>
    /// Weak and strong discharge, as dye houses and activator allow: twice and half the residue of each dye (a proposal).
    /// </summary>
    public static double Strength(Deposit deposit) =>
        deposit switch
        {
            Deposit.Light => 2,
            Deposit.Heavy => 0.5,
            _ => 1,
        };

    /// <summary>The cloth after one pass of discharge base.</summary>
    public static Spectrum Cloth(GarmentColour colour, InkPass pass, PressSettings press, Deposit deposit) =>
        Discharge.Cloth(colour, WetDeposit(pass, press, deposit), Strength(deposit));
}
