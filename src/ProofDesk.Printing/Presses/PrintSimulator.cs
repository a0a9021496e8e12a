using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>From film bits to the flat print on one ground.</summary>
public static class PrintSimulator
{
    /// <summary>Bare cloth around the inked extent.</summary>
    public const double UsualMarginMm = 12;

    /// <summary>Prints the films on the plan's ground.</summary>
    /// <param name="afterScreens">Head by head: only the first so many running screens; null = all.</param>
    public static PrintedCloth Print(
        Films films,
        GroundPlan plan,
        PressSettings press,
        Deposit deposit,
        ViewingLight light,
        ulong seed,
        int? afterScreens = null,
        IProgress<double>? progress = null,
        CancellationToken cancellation = default
    ) => throw new NotSupportedException("the press is being built");
}
