using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// The image area of one film: bits at the device's resolution, 1 = ink, exactly as they go to film and as the press
/// simulation prints them. Rows are made (or read back) on demand, so memory does not grow with the height.
/// </summary>
public abstract class Film(Plate plate, int width, int height)
{
    public Plate Plate { get; } = plate;

    /// <summary>Width of the image area, film pixels.</summary>
    public int Width { get; } = width;

    /// <summary>Height of the image area, film pixels.</summary>
    public int Height { get; } = height;

    /// <summary>True ruling of the screen in lpi and true angle in degrees, as the threshold array realises them.</summary>
    public abstract (double LinesPerInch, double AngleDegrees) TrueScreen { get; }

    /// <summary>
    /// Fills <paramref name="band"/> with the rows from <paramref name="top"/> on. Rows above the film or below it are
    /// blank. Safe to call from several threads at once. The band must be as wide as the film.
    /// </summary>
    public abstract void ReadRows(int top, BitPlane band);
}

/// <summary>A film whose bits are stored: read back from a file, or altered by a test.</summary>
public sealed class StoredFilm(Plate plate, BitPlane bits, double linesPerInch, double angleDegrees)
    : Film(plate, bits.Width, bits.Height)
{
    public override (double LinesPerInch, double AngleDegrees) TrueScreen => (linesPerInch, angleDegrees);

    public override void ReadRows(int top, BitPlane band)
    {
        if (band.Width != Width)
            throw new ArgumentException($"the band is {band.Width} px wide, the film {Width} px");
        for (var y = 0; y < band.Height; y++)
        {
            var row = band.Row(y);
            if (top + y >= 0 && top + y < Height)
                bits.Row(top + y).CopyTo(row);
            else
                row.Clear();
        }
    }
}

/// <summary>All films of a separation at one device's resolution, same size, shared origin, in print order.</summary>
public sealed record Films(Separation Separation, OutputDevice Device, ImmutableArray<Film> Plates)
{
    /// <summary>How often each screen carries the image.</summary>
    public ScreenLayout Layout { get; init; } = ScreenLayout.One;

    public int Width => Plates.Length == 0 ? 0 : Plates[0].Width;
    public int Height => Plates.Length == 0 ? 0 : Plates[0].Height;
}
