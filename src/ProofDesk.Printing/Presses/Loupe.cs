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
        double heightMm
    )
    {
        if (!(widthMm > 0 && heightMm > 0 && widthMm <= LargestMm && heightMm <= LargestMm))
            throw new ArgumentException(
                $"the loupe shows up to {LargestMm} x {LargestMm} mm; {widthMm} x {heightMm} mm asked for"
            );
        var setUp = PressSetUp.Of(films, plan, press, deposit, light, seed, null);
        var scale = setUp.Scale;
        var across = OpticalSpread.Weights(setUp.ScatterUm, 1000 / scale.XPixelsPerMm);
        var down = OpticalSpread.Weights(setUp.ScatterUm, 1000 / scale.YPixelsPerMm);
        var (reachX, reachY) = (across.Length / 2, down.Length / 2);
        var (left, top) = ((int)Math.Round(xMm * scale.XPixelsPerMm), (int)Math.Round(yMm * scale.YPixelsPerMm));
        var width = Math.Max(1, (int)Math.Round(widthMm * scale.XPixelsPerMm));
        var height = Math.Max(1, (int)Math.Round(heightMm * scale.YPixelsPerMm));

        // Light comes in from around the region, so its surroundings are printed too.
        var view = View.Part(setUp, left - reachX, width + 2 * reachX, 1, 1, false);
        var rows = new BandRows(view.Width, height + 2 * reachY, reachX);
        Print(setUp, rows, view, top - reachY);

        var drawer = new ClothRows(
            setUp,
            across,
            down,
            view.Width,
            view.Left,
            scale.CellWidth,
            new PictureColour(light)
        );
        var picture = new RgbPicture(width, height, scale.XPixelsPerMm);
        var around = new (BandRows, int)[down.Length];
        var wide = new byte[3 * view.Width];
        var outside = new ulong[(view.Width + 63) / 64];
        for (var y = 0; y < height; y++)
        {
            for (var i = 0; i < around.Length; i++)
                around[i] = (rows, y + i);
            drawer.Draw(around, (int)Math.Floor((top + y) / (double)scale.CellHeight), wide, outside);
            wide.AsSpan(3 * (left - view.Left), 3 * width).CopyTo(picture.Row(y));
        }
        return picture;
    }

    private static void Print(PressSetUp setUp, BandRows rows, View view, int top)
    {
        if (setUp.Screens.Length == 0)
        {
            for (var row = 0; row < rows.Rows; row++)
                rows.ClothRow(row, setUp.Cloth(1));
            return;
        }
        var knit = setUp.Knit.Classes;
        var tile = new ClassTile(knit.Stride, knit.CellsDown * knit.CellHeight, 1, 1, knit.Classes);
        new BandRenderer(setUp, view, tile, rows.Rows).Render(top, rows, 0);
    }
}
