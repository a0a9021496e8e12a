using System.Collections.Immutable;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Screening;

/// <summary>From plates to films: the only place that makes dots.</summary>
public static class FilmMaker
{
    /// <summary>All films of a separation for a device; no pixel is made before it is read.</summary>
    public static Films Screen(Separation separation, OutputDevice device)
    {
        var width = Pixels(separation.WidthMm, device.XDpi);
        var height = Pixels(separation.HeightMm, device.YDpi);
        var arrays = new Dictionary<Screen, ThresholdArray>();
        var films = ImmutableArray.CreateBuilder<Film>(separation.Plates.Length);
        foreach (var wanted in separation.Plates)
        {
            var plate = device.Tones is { } tones ? wanted with { Tone = tones.Asked(wanted.Tone) } : wanted;
            if (!arrays.TryGetValue(plate.Screen, out var array))
                arrays[plate.Screen] = array = ThresholdArray.For(plate.Screen, device);
            films.Add(new ScreenedFilm(plate, array, width, height));
        }
        return new(separation, device, films.MoveToImmutable());
    }

    private static int Pixels(double mm, double dpi) =>
        Math.Max(1, (int)Math.Round(mm / 25.4 * dpi, MidpointRounding.AwayFromZero));
}
