using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Presses;

/// <summary>A window of the print at the scale of the picture, through the same code as the whole print.</summary>
internal static class PrintWindow
{
    /// <summary>The window whose first cell is (left, top), counted from the top left corner of the films.</summary>
    public static RgbPicture Look(PressSetUp press, PictureColour colour, int left, int top, int width, int height)
    {
        var scale = press.Scale;
        var weights = OpticalSpread.Weights(press.ScatterUm, 1000 * scale.CellMm);
        var reach = weights.Length / 2;
        // Light comes in from around the window, so its surroundings are printed too.
        var view = View.Part(press, left - reach, width + 2 * reach, scale.CellWidth, scale.CellHeight, true);
        var rows = new BandRows(view.Width, height + 2 * reach, reach);
        for (var row = 0; row < rows.Rows; row++)
            rows.ClothRow(row, press.Cloth(scale.CellWidth * scale.CellHeight));
        if (press.Screens.Length > 0)
            new BandRenderer(press, view, press.Knit.Classes, rows.Rows).Render(top - reach, rows, 0);
        var drawer = new ClothRows(press, weights, weights, view.Width, view.Left, 1, colour);
        var picture = new RgbPicture(width, height, scale.CellsPerMm);
        var around = new (BandRows, int)[weights.Length];
        var wide = new byte[3 * rows.Width];
        var outside = new ulong[(rows.Width + 63) / 64];
        for (var y = 0; y < height; y++)
        {
            for (var i = 0; i < around.Length; i++)
                around[i] = (rows, y + i);
            drawer.Draw(around, top + y, wide, outside);
            wide.AsSpan(3 * (left - view.Left), 3 * width).CopyTo(picture.Row(y));
        }
        return picture;
    }
}
