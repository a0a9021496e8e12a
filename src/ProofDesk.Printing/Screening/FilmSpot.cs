using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>A spot of a film at its own resolution: one film pixel is one picture pixel, 255 = ink.</summary>
public static class FilmSpot
{
    /// <summary>The pixels whose top left corner is at (left, top); outside the image area there is no ink.</summary>
    public static BytePlane Look(Film film, int left, int top, int width, int height)
    {
        var rows = new BitPlane(film.Width, height);
        film.ReadRows(top, rows);
        var spot = new BytePlane(width, height);
        for (var y = 0; y < height; y++)
        {
            var row = spot.Row(y);
            for (var x = Math.Max(0, -left); x < width && left + x < film.Width; x++)
                row[x] = rows[left + x, y] ? byte.MaxValue : byte.MinValue;
        }
        return spot;
    }
}
