using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Presses;

/// <summary>Which end of the plausible range is drawn.</summary>
public enum Deposit
{
    Light,
    Expected,
    Heavy,
}

/// <summary>
/// The press and the cloth under it. Every number is a default of the trade that a shop can change (common practice,
/// [PHYSICS] 1.5, 1.15, 1.17).
/// </summary>
/// <param name="GrowthUm">Ink growth on bare cloth at each edge, um.</param>
/// <param name="GrowthOnBaseUm">Ink growth on a white base, um.</param>
/// <param name="GrowthNoiseUm">Standard deviation of the growth along an edge.</param>
/// <param name="SetUpSigmaMm">Register error constant for the run, one sigma, x and y.</param>
/// <param name="PalletSigmaMm">Register error that repeats every N shirts.</param>
/// <param name="JitterSigmaMm">Register error of each print.</param>
/// <param name="Transfer">Share of the theoretical ink volume that reaches the cloth, 0..1.</param>
/// <param name="SecondPassTransfer">Transfer of a later stroke relative to the first.</param>
/// <param name="WickedShare">Share of a first plastisol pass that wicks into bare cloth, 0..1.</param>
/// <param name="BareFibreFirstPass">Share of area where fibres stand through the first pass.</param>
/// <param name="BareFibreOnBase">Share of area where fibres stand through a print on a base.</param>
/// <param name="ThicknessCvFirstPass">Coefficient of variation of the film thickness, first pass.</param>
/// <param name="ThicknessCvOnBase">Coefficient of variation on a flashed base.</param>
/// <param name="WetTrap">Transfer of an ink printed onto wet ink, relative.</param>
public sealed record PressSettings(
    double GrowthUm,
    double GrowthOnBaseUm,
    double GrowthNoiseUm,
    double SetUpSigmaMm,
    double PalletSigmaMm,
    double JitterSigmaMm,
    double Transfer,
    double SecondPassTransfer,
    double WickedShare,
    double BareFibreFirstPass,
    double BareFibreOnBase,
    double ThicknessCvFirstPass,
    double ThicknessCvOnBase,
    double WetTrap
)
{
    /// <summary>Whose press this is, as a page or a ticket names it.</summary>
    public string Name { get; init; } = "usual press of the trade";

    /// <summary>How well its numbers are known: C defaults of the trade, B read by eye from a test form, A measured on one.</summary>
    public DataClass DataClass { get; init; } = DataClass.C;

    /// <summary>
    /// Scattering of this shop's white relative to the ink library's: what its lightness on black cloth says beyond deposit and
    /// standing fibres.
    /// </summary>
    public double WhiteOpacityScale { get; init; } = 1;

    /// <summary>Smallest dots and lines this shop's screens hold, relative to the mesh's own w and 2 d + w.</summary>
    public double HeldFeatureScale { get; init; } = 1;

    /// <summary>
    /// An automatic press of the usual kind. Calibrated: the two shares of standing fibres, so that white plastisol on
    /// black cloth at 61-64 mesh reads L* 79 to 83 in one pass and 89 to 92 print-flash-print, the middle of what the trade
    /// expects (76-84 and 86-92). Nothing else was adjusted.
    /// </summary>
    public static PressSettings Automatic { get; } =
        new(
            GrowthUm: 25,
            GrowthOnBaseUm: 35,
            GrowthNoiseUm: 6,
            SetUpSigmaMm: 0.06,
            PalletSigmaMm: 0.04,
            JitterSigmaMm: 0.03,
            Transfer: 0.75,
            SecondPassTransfer: 0.9,
            WickedShare: 0.25,
            BareFibreFirstPass: 0.10,
            BareFibreOnBase: 0.03,
            ThicknessCvFirstPass: 0.5,
            ThicknessCvOnBase: 0.3,
            WetTrap: 0.85
        );
}
