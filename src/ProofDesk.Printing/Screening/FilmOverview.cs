using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>Whole film sheets as small pictures, black = ink: one of each, and all of a print beside each other.</summary>
public static class FilmOverview
{
    private const int GapPixels = 16;
    private const int BandBoxes = 8;

    /// <summary>One sheet in boxes of whole film pixels, within so many pixels across.</summary>
    public static BytePlane Of(FilmSheet sheet, int maxWidth, CancellationToken cancel = default)
    {
        var across = Math.Max(1, (sheet.Width + maxWidth - 1) / maxWidth);
        // Pixels of a device need not be square; those of the picture are nearly so.
        var down = Math.Max(1, (int)Math.Round(across * sheet.Device.YDpi / sheet.Device.XDpi));
        var (width, height) = ((sheet.Width + across - 1) / across, (sheet.Height + down - 1) / down);
        var picture = new BytePlane(width, height);
        RowLoop.RunBands(
            height,
            BandBoxes,
            (top, count) =>
            {
                cancel.ThrowIfCancellationRequested();
                var band = new BitPlane(sheet.Width, Math.Min(count * down, sheet.Height - top * down));
                sheet.ReadRows(top * down, band);
                var part = BitAverage.Boxes(band, across, down);
                for (var y = 0; y < part.Height; y++)
                    Paper(part.Row(y), picture.Row(top + y));
            }
        );
        return picture;
    }

    /// <summary>A sheet of tones the same way, every so many pixels.</summary>
    public static BytePlane Of(BytePlane tones, int maxWidth)
    {
        var box = Math.Max(1, (tones.Width + maxWidth - 1) / maxWidth);
        var small = Resample.Shrink(tones, Math.Max(1, tones.Width / box), Math.Max(1, tones.Height / box));
        var picture = new BytePlane(small.Width, small.Height);
        for (var y = 0; y < small.Height; y++)
            Paper(small.Row(y), picture.Row(y));
        return picture;
    }

    /// <summary>All pictures in rows of up to four, on grey, in print order.</summary>
    public static BytePlane Together(IReadOnlyList<BytePlane> films)
    {
        var columns = Math.Clamp(films.Count, 1, 4);
        var rows = (films.Count + columns - 1) / columns;
        var (width, height) = films.Count == 0 ? (1, 1) : (films.Max(f => f.Width), films.Max(f => f.Height));
        var sheet = new BytePlane(columns * (width + GapPixels) + GapPixels, rows * (height + GapPixels) + GapPixels);
        sheet.Pixels.AsSpan().Fill(160);
        for (var i = 0; i < films.Count; i++)
        {
            var (left, top) = (
                GapPixels + i % columns * (width + GapPixels),
                GapPixels + i / columns * (height + GapPixels)
            );
            for (var y = 0; y < films[i].Height; y++)
                films[i].Row(y).CopyTo(sheet.Row(top + y)[left..]);
        }
        return sheet;
    }

    private static void Paper(ReadOnlySpan<byte> ink, Span<byte> paper)
    {
        for (var x = 0; x < ink.Length; x++)
            paper[x] = (byte)(255 - ink[x]);
    }
}
