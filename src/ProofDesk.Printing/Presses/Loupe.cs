using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>A small region of the print at film resolution: one film pixel is one picture pixel.</summary>
public static class Loupe
{
    /// <summary>Looks at the region whose top left corner is at (xMm, yMm) of the inked extent.</summary>
    public static RgbPicture Look(
        Films films,
        GroundPlan plan,
        PressSettings press,
        Deposit deposit,
        ViewingLight light,
        ulong seed,
        double xMm,
        double yMm,
        double widthMm,
        double heightMm
    ) => throw new NotSupportedException("the press is being built");
}
