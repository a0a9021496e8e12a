using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// The same spot on the shirts of one run, side by side, from the same film bits: the set-up error is the same on all, the
/// pallet's comes back every few shirts, the rest changes. Under each shirt a square with a mark says where the
/// loader put it: the square is +-15 mm, the mark the middle of the print and its slant.
/// </summary>
/// <param name="LeftMm">Where the spot is, from the left edge of the inked extent.</param>
/// <param name="WorstRegisterMm">Per shirt: how far the two screens that miss each other most are apart at the spot.</param>
public sealed record RunStrip(
    RgbPicture Picture,
    ImmutableArray<ShirtOfRun> Shirts,
    ImmutableArray<double> WorstRegisterMm,
    double LeftMm,
    double TopMm,
    double WindowMm
)
{
    /// <summary>Shirts shown.</summary>
    public const int Count = 24;

    private const double UsualWindowMm = 14;

    /// <summary>Draws the strip of one ground.</summary>
    public static RunStrip Draw(
        Films films,
        GroundPlan plan,
        PressSettings press,
        int pallets,
        ViewingLight light,
        ulong seed,
        CancellationToken cancel
    )
    {
        var setUp = PressSetUp.Of(films, plan, press, Deposit.Expected, light, seed, null);
        var scale = setUp.Scale;
        var window = Math.Min(UsualWindowMm, Math.Min(films.Separation.WidthMm, films.Separation.HeightMm));
        var cells = Math.Max(16, (int)Math.Round(window * scale.CellsPerMm));
        var (leftMm, topMm) = BusySpot.Find(
            [.. setUp.Screens.Select(s => s.Film).Distinct()],
            scale.XPixelsPerMm,
            window,
            cancel
        );
        var (left, top) = ((int)(leftMm * scale.CellsPerMm), (int)(topMm * scale.CellsPerMm));
        var shirts = Enumerable.Range(1, Count).Select(n => ShirtOfRun.Of(n, pallets, seed)).ToImmutableArray();
        var pictures = new RgbPicture[Count];
        var apart = new double[Count];
        Parallel.For(
            0,
            Count,
            new() { CancellationToken = cancel },
            i =>
            {
                var shirt = setUp.On(shirts[i], press);
                apart[i] = shirt.WorstRegisterMm(
                    leftMm + window / 2 - films.Separation.WidthMm / 2,
                    topMm + window / 2 - films.Separation.HeightMm / 2
                );
                pictures[i] = PrintWindow.AsPicture(shirt, new PictureColour(light)).Look(left, top, cells, cells);
            }
        );
        return new(RunStripSheet.LayOut(pictures, shirts), shirts, [.. apart], leftMm, topMm, window);
    }
}
