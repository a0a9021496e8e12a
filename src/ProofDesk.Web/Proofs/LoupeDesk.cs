using ProofDesk.Adapters.Codecs;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Web.Proofs;

/// <summary>Where the loupe stands and what it looks at.</summary>
/// <param name="X">Middle of the seen square on the inked extent, mm.</param>
/// <param name="Film">A screen, counted from 1: the bits of its film instead of the print.</param>
/// <param name="After">The print after so many running screens; null = all of them.</param>
/// <param name="Mm">Side of the square; null = the usual one.</param>
public sealed record LoupeSpot(
    string Print,
    string Ground,
    double X,
    double Y,
    int? Film = null,
    int? After = null,
    double? Mm = null
);

/// <summary>
/// Looks at a spot of a version's print through the press simulation at film resolution, or at the very bits of one of its
/// films there.
/// </summary>
public sealed class LoupeDesk(FilmShelf shelf)
{
    /// <summary>A square of less is a handful of film pixels.</summary>
    public const double SmallestMm = 0.5;
    public const double LargestMm = 12;

    public async Task<byte[]?> LookAsync(ReadVersion read, LoupeSpot spot, CancellationToken cancel)
    {
        var chosen = read.Order.Prints.FirstOrDefault(p => p.Key == spot.Print);
        var side = spot.Mm ?? ProofPage.LoupeMm;
        if (chosen is null || !double.IsFinite(spot.X) || !double.IsFinite(spot.Y))
            return null;
        if (!(side is >= SmallestMm and <= LargestMm))
            return null;
        var (request, films) = await shelf.TakeAsync(read, chosen, cancel);
        var plan = films.Separation.Grounds.FirstOrDefault(g => g.Ground.Id == spot.Ground);
        if (plan is null)
            return null;
        var (width, height) = (films.Separation.WidthMm, films.Separation.HeightMm);
        var (seenWidth, seenHeight) = (Math.Min(side, width), Math.Min(side, height));
        var left = Math.Clamp(spot.X - seenWidth / 2, 0, width - seenWidth);
        var top = Math.Clamp(spot.Y - seenHeight / 2, 0, height - seenHeight);
        if (spot.Film is { } screen)
            return screen >= 1 && screen <= films.Plates.Length
                ? FilmBits(films, screen - 1, left, top, seenWidth, seenHeight)
                : null;
        if (spot.After is { } after && (after < 0 || after > plan.Runs.Count(r => r.Runs)))
            return null;
        var seen = Loupe.Look(
            films,
            plan,
            request.Press,
            Deposit.Expected,
            request.Light,
            request.Seed,
            left,
            top,
            seenWidth,
            seenHeight,
            spot.After
        );
        return PictureWriter.Png(seen);
    }

    private static byte[] FilmBits(Films films, int plate, double left, double top, double width, double height)
    {
        var (across, down) = (films.Device.XDpi / 25.4, films.Device.YDpi / 25.4);
        var ink = FilmSpot.Look(
            films.Plates[plate],
            (int)Math.Round(left * across),
            (int)Math.Round(top * down),
            Math.Max(1, (int)Math.Round(width * across)),
            Math.Max(1, (int)Math.Round(height * down))
        );
        var black = Array.ConvertAll(ink.Pixels, value => (byte)(255 - value));
        return PictureWriter.Png(new BytePlane(ink.Width, ink.Height, black), across);
    }
}
