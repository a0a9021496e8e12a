using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Presses;

/// <summary>A film that lands elsewhere as a whole, by whole film pixels; what comes in at its edges is blank.</summary>
internal sealed class ShiftedFilm(Film film, int dx, int dy) : Film(film.Plate, film.Width, film.Height)
{
    public override (double LinesPerInch, double AngleDegrees) TrueScreen => film.TrueScreen;

    public override void ReadRows(int top, BitPlane band)
    {
        film.ReadRows(top - dy, band);
        if (dx == 0)
            return;
        var still = new ulong[band.Stride];
        for (var y = 0; y < band.Height; y++)
        {
            var row = band.Row(y);
            row.CopyTo(still);
            BitRows.Move(still, row, band.Width, dx);
        }
    }
}
