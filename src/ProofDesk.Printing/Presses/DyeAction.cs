using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Dye goes into the polyester of the cloth: K/S of several dyes add there, whatever the order, and the cloth is blended
/// anew each time from its own fibres. On a film there is no fibre to dye, and nothing happens.
/// </summary>
public sealed class DyeAction : InkAction
{
    public static DyeAction Usual { get; } = new();

    /// <summary>Share of polyester at the ends of the range: a label is good to 3 points (common practice).</summary>
    private const double ShareTolerance = 0.03;

    public override bool CoversFibres => true;

    public override PrintedStack Print(PrintedStack below, InkPlace at)
    {
        if (below.IsSealed)
            return below;
        var (cloth, ks) = below.Dyed ?? (Shared(below.Ground, at.Deposit), Spectrum.Flat(0));
        // Pressed cooler or shorter less dye comes over, and the other way round.
        var amount = DepositModel.Factor(at.Deposit);
        ks = Spectrum.Combine(ks, DyeInks.KsAtFull(at.Pass.Ink), (sum, dye) => sum + amount * dye);
        return below.OnCloth(Sublimation.Cloth(cloth.Colour, ks)) with { Dyed = (cloth, ks) };
    }

    /// <summary>A blend at the end of what its label allows; the cloth's own colour stays.</summary>
    private static Ground Shared(Ground ground, Deposit deposit)
    {
        var share = Sublimation.PolyesterShare(ground.Colour);
        if (deposit == Deposit.Expected || share is <= 0 or >= 1)
            return ground;
        var other = Math.Clamp(share + (deposit == Deposit.Light ? -ShareTolerance : ShareTolerance), 0, 1);
        return ground with
        {
            Colour = ground.Colour with
            {
                Fibres =
                [
                    .. ground.Colour.Fibres.Select(f =>
                        f with
                        {
                            Share =
                                f.Fibre == FibreKind.Polyester
                                    ? f.Share / share * other
                                    : f.Share / (1 - share) * (1 - other),
                        }
                    ),
                ],
            },
        };
    }
}
