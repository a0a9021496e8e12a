using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// A small region of the print at film resolution, through the same code as the print: one film pixel is one picture
/// pixel, so one can look at the very dots.
/// </summary>
public static class Loupe
{
    /// <summary>The largest region, mm: beyond it the picture itself is the better view.</summary>
    public const double LargestMm = 40;

    /// <summary>Looks at the region whose top left corner is at (xMm, yMm) of the inked extent.</summary>
    /// <param name="afterScreens">Head by head: only the first so many running screens; null = all.</param>
    /// <exception cref="ArgumentException">The region is empty or larger than <see cref="LargestMm"/>.</exception>
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
        double heightMm,
        int? afterScreens = null
    )
    {
        if (!(widthMm > 0 && heightMm > 0 && widthMm <= LargestMm && heightMm <= LargestMm))
            throw new ArgumentException(
                $"the loupe shows up to {LargestMm} x {LargestMm} mm; {widthMm} x {heightMm} mm asked for"
            );
        var setUp = PressSetUp.Of(films, plan, press, deposit, light, seed, afterScreens);
        var scale = setUp.Scale;
        var (left, top) = ((int)Math.Round(xMm * scale.XPixelsPerMm), (int)Math.Round(yMm * scale.YPixelsPerMm));
        var width = Math.Max(1, (int)Math.Round(widthMm * scale.XPixelsPerMm));
        var height = Math.Max(1, (int)Math.Round(heightMm * scale.YPixelsPerMm));
        return PrintWindow.AsFilm(setUp, new PictureColour(light)).Look(left, top, width, height);
    }
}
