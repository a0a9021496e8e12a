using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// The words NOT RELEASED outside the image, right of both register marks: drawn on an early film, or put on a stored one,
/// whose image stays what it is.
/// </summary>
public static class FilmStamp
{
    private const string Words = "NOT RELEASED";
    private const double HeightMm = 4.5;
    private const double FromImageMm = 14;
    private const double RightOfCentreMm = 10;

    /// <summary>Stamps a whole sheet.</summary>
    /// <param name="imageTop">Row of the image's upper edge; of the first one where there are several.</param>
    /// <param name="imageBottom">Row below the last image.</param>
    /// <param name="mirrored">The sheet is stored as seen from behind.</param>
    public static void NotReleased(
        BitPlane sheet,
        int imageTop,
        int imageBottom,
        double xDpi,
        double yDpi,
        bool mirrored
    )
    {
        if (imageTop <= 0 || imageBottom >= sheet.Height || imageBottom <= imageTop)
            throw new ArgumentException(
                $"an image from row {imageTop} to {imageBottom} leaves no room for words on a sheet of {sheet.Height} rows"
            );
        var (head, foot) = (new BitPlane(sheet.Width, imageTop), new BitPlane(sheet.Width, sheet.Height - imageBottom));
        Above(head, xDpi, yDpi);
        Below(foot, xDpi, yDpi);
        Lay(head, 0);
        Lay(foot, imageBottom);

        void Lay(BitPlane zone, int top)
        {
            for (var y = 0; y < zone.Height; y++)
            {
                var from = zone.Row(y);
                if (from.IndexOfAnyExcept(0ul) < 0)
                    continue;
                if (mirrored)
                    FilmSheet.Mirror(from, zone.Width);
                var to = sheet.Row(top + y);
                for (var i = 0; i < to.Length; i++)
                    to[i] |= from[i];
            }
        }
    }

    internal static void Above(BitPlane head, double xDpi, double yDpi) =>
        Draw(head, head.Height / yDpi * 25.4 - FromImageMm - HeightMm, xDpi, yDpi);

    internal static void Below(BitPlane foot, double xDpi, double yDpi) => Draw(foot, FromImageMm, xDpi, yDpi);

    private static void Draw(BitPlane zone, double topMm, double xDpi, double yDpi) =>
        new FilmPen(zone, xDpi, yDpi).Text(zone.Width / xDpi * 25.4 / 2 + RightOfCentreMm, topMm, HeightMm, Words, 0.2);
}
