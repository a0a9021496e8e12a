using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// A film laid upright onto a larger canvas of another device: each canvas pixel takes the film pixel under its middle.
/// Blank around it.
/// </summary>
/// <param name="left">Left edge of the film on the canvas, canvas pixels; likewise the top.</param>
/// <param name="across">Film pixels across a canvas pixel; likewise down.</param>
internal sealed class PlacedFilm(
    Film film,
    int width,
    int height,
    double left,
    double canvasTop,
    double across,
    double down
) : Film(film.Plate, width, height)
{
    public override (double LinesPerInch, double AngleDegrees) TrueScreen => film.TrueScreen;

    public override void ReadRows(int top, BitPlane band)
    {
        band.Words.AsSpan().Clear();
        var filmTop = (int)Math.Floor((top - canvasTop) * down);
        var filmEnd = (int)Math.Ceiling((top + band.Height - canvasTop) * down);
        if (filmEnd < 0 || filmTop >= film.Height)
            return;
        var rows = new BitPlane(film.Width, filmEnd - filmTop + 1);
        film.ReadRows(filmTop, rows);
        var from = Math.Max(0, (int)Math.Floor(left));
        var to = Math.Min(Width, (int)Math.Ceiling(left + film.Width / across));
        for (var y = 0; y < band.Height; y++)
        {
            var source = (int)Math.Floor((top + y + 0.5 - canvasTop) * down);
            if (source < 0 || source >= film.Height || top + y < 0 || top + y >= Height)
                continue;
            for (var x = from; x < to; x++)
            {
                var at = (int)Math.Floor((x + 0.5 - left) * across);
                if (at >= 0 && at < film.Width && rows[at, source - filmTop])
                    band[x, y] = true;
            }
        }
    }
}
