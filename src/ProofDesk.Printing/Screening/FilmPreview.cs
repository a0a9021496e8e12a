using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>A film as a small grey picture, for the desk: 255 = ink everywhere in the box.</summary>
public static class FilmPreview
{
    /// <summary>
    /// Boxes of whole film pixels, the smallest that keep the picture within <paramref name="maxWidth"/> px; read in
    /// bands.
    /// </summary>
    public static BytePlane Draw(Film film, int maxWidth, CancellationToken cancel = default)
    {
        var box = Math.Max(1, (film.Width + maxWidth - 1) / maxWidth);
        var width = (film.Width + box - 1) / box;
        var height = (film.Height + box - 1) / box;
        var picture = new BytePlane(width, height);
        RowLoop.RunBands(
            height,
            Math.Max(1, 256 / box),
            (top, count) =>
            {
                cancel.ThrowIfCancellationRequested();
                var rows = Math.Min(count * box, film.Height - top * box);
                var band = new BitPlane(film.Width, rows);
                film.ReadRows(top * box, band);
                var part = BitAverage.Boxes(band, box, box);
                for (var y = 0; y < part.Height; y++)
                    part.Row(y).CopyTo(picture.Row(top + y));
            }
        );
        return picture;
    }
}
