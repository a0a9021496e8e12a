using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Garments.Photographs;

/// <summary>What a tape would say of the garment in a photograph, laid flat: read off its cloth, not off the corners marked around it.</summary>
/// <param name="ChestMm">Across the body two thirds of the way down, where no sleeve is; 0 = no cloth there.</param>
/// <param name="LengthMm">From the collar seam down the centre line to where the cloth ends; 0 = no cloth there.</param>
public sealed record PhotoSize(double ChestMm, double LengthMm)
{
    private const double ChestAt = 2.0 / 3;

    // A drawstring, a print or a deep fold is no end of the cloth; a sleeve hangs further away.
    private const double WidestGapMm = 10;

    public static PhotoSize Of(PhotoReading reading)
    {
        var length = Reach(reading, 0, 0, 0, 1);
        var y = ChestAt * length;
        return new(Reach(reading, 0, y, -1, 0) + Reach(reading, 0, y, 1, 0), length);
    }

    /// <summary>How far cloth goes from a place in a direction, mm.</summary>
    private static double Reach(PhotoReading reading, double fromX, double fromY, double alongX, double alongY)
    {
        var step = 1 / reading.Scale.PixelsPerMm;
        var last = 0.0;
        for (var mm = 0.0; mm - last <= WidestGapMm; mm += step)
        {
            if (IsCloth(reading.Cloth, reading.Scale.ToPixels(fromX + mm * alongX, fromY + mm * alongY)))
                last = mm;
        }
        return last;
    }

    private static bool IsCloth(BytePlane cloth, PhotoPoint at)
    {
        var (x, y) = ((int)Math.Floor(at.X), (int)Math.Floor(at.Y));
        return x >= 0 && y >= 0 && x < cloth.Width && y < cloth.Height && cloth[x, y] >= 128;
    }
}
