using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// A window of the print through the same code as the whole print: at the scale of the picture, or with one film pixel to one
/// picture pixel.
/// </summary>
/// <param name="cellWidth">Film pixels across a pixel of the window: a picture cell's, or 1.</param>
internal sealed class PrintWindow(PressSetUp press, PictureColour colour, int cellWidth, int cellHeight)
{
    /// <summary>A window at the scale of the picture.</summary>
    public static PrintWindow AsPicture(PressSetUp press, PictureColour colour) =>
        new(press, colour, press.Scale.CellWidth, press.Scale.CellHeight);

    /// <summary>A window at film resolution.</summary>
    public static PrintWindow AsFilm(PressSetUp press, PictureColour colour) => new(press, colour, 1, 1);

    /// <summary>The window whose first cell is (left, top), counted from the top left corner of the films.</summary>
    public RgbPicture Look(int left, int top, int width, int height)
    {
        var scale = press.Scale;
        var across = OpticalSpread.Weights(press.ScatterUm, 1000 * cellWidth / scale.XPixelsPerMm);
        var down = OpticalSpread.Weights(press.ScatterUm, 1000 * cellHeight / scale.YPixelsPerMm);
        var (reachX, reachY) = (across.Length / 2, down.Length / 2);
        var whole = cellWidth == scale.CellWidth && cellHeight == scale.CellHeight;
        // Light comes in from around the window, so its surroundings are printed too.
        var view = View.Part(press, left - reachX, width + 2 * reachX, cellWidth, cellHeight, whole);
        var rows = new BandRows(view.Width, height + 2 * reachY, reachX);
        Print(rows, view, top - reachY);

        var perCell = scale.CellWidth / cellWidth;
        var drawer = new ClothRows(press, across, down, view.Width, view.Left, perCell, colour);
        var picture = new RgbPicture(width, height, scale.XPixelsPerMm / cellWidth);
        var around = new (BandRows, int)[down.Length];
        var wide = new byte[3 * view.Width];
        var outside = new ulong[(view.Width + 63) / 64];
        for (var y = 0; y < height; y++)
        {
            for (var i = 0; i < around.Length; i++)
                around[i] = (rows, y + i);
            drawer.Draw(around, (int)Math.Floor((double)(top + y) * cellHeight / scale.CellHeight), wide, outside);
            wide.AsSpan(3 * (left - view.Left), 3 * width).CopyTo(picture.Row(y));
        }
        return picture;
    }

    private void Print(BandRows rows, View view, int top)
    {
        if (press.Screens.Length == 0)
        {
            for (var row = 0; row < rows.Rows; row++)
                rows.ClothRow(row, press.Cloth(cellWidth * cellHeight));
            return;
        }
        var knit = press.Knit.Classes;
        var tile = view.Whole ? knit : new ClassTile(knit.Stride, knit.CellsDown * knit.CellHeight, 1, 1, knit.Classes);
        new BandRenderer(press, view, tile, rows.Rows).Render(top, rows, 0);
    }
}
