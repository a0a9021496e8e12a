namespace ProofDesk.Printing.Screening;

/// <summary>What the film says about itself, outside the image.</summary>
/// <param name="Screen">Number of this screen in print order, from 1.</param>
/// <param name="ShortCode">A few characters people can read to each other; also in the square code.</param>
/// <param name="ImageSha256">Digest of the image area: a film cannot hold its own digest.</param>
/// <param name="Released">False prints NOT RELEASED outside the image.</param>
public sealed record FilmLabel(
    string Order,
    string Print,
    string Version,
    int Screen,
    int ScreenCount,
    string ShortCode,
    string ImageSha256,
    bool Released
)
{
    /// <summary>The text block, one line each.</summary>
    internal IEnumerable<string> Lines(Film film, OutputDevice device, ScreenLayout layout)
    {
        var plate = film.Plate;
        yield return $"ORDER {Order}  PRINT {Print}  VERSION {Version}";
        yield return $"SCREEN {Screen} OF {ScreenCount}: {plate.Name}";
        yield return $"INK {plate.Ink.Name}, {plate.Strokes} STROKE{(plate.Strokes == 1 ? "" : "S")}{(plate.FlashAfter ? ", FLASH" : "")}";
        yield return $"MESH {plate.Mesh.Label}  {Dots(film, device)}";
        if (plate.ByHand is { } byHand)
            yield return $"CHANGED BY HAND: {byHand.ToUpperInvariant()}";
        yield return FormattableString.Invariant(
            $"{film.Width / device.XDpi * 25.4:0.0} X {film.Height / device.YDpi * 25.4:0.0} MM AT {device.OwnXDpi:0.#} X {device.OwnYDpi:0.#} DPI, 1:1"
        );
        if (device.IsStretched)
            yield return FormattableString.Invariant(
                $"DRAWN {device.XStretchPercent:+0.00;-0.00;0} % WIDE, {device.YStretchPercent:+0.00;-0.00;0} % HIGH FOR THIS DEVICE"
            );
        if (!layout.IsOne)
            yield return FormattableString.Invariant(
                $"{layout.Words.ToUpperInvariant()}, {layout.GapMm:0.#} MM APART, ONE A SHIRT"
            );
        yield return $"DEVICE {device.Name}  FRAME {device.Frame.Name}";
        yield return (device.HandOver == HandOver.DotsOurs ? "DOTS BOUND" : "TONES BOUND, DOTS SIMULATED")
            + (device.Tones is null ? "" : ", CORRECTED FOR THE DEVICE");
        yield return $"CODE {ShortCode}  SHA-256 OF {(layout.IsOne ? "THE IMAGE AREA" : "ONE IMAGE")}:";
        yield return ImageSha256[..32];
        yield return ImageSha256[32..];
    }

    /// <summary>The dots as they are on the film, or as a device that makes them is asked for.</summary>
    private static string Dots(Film film, OutputDevice device)
    {
        var screen = film.Plate.Screen;
        var (lpi, angle) =
            device.HandOver == HandOver.DotsOurs ? film.TrueScreen : (screen.LinesPerInch, screen.AngleDegrees);
        return screen.IsStochastic
            ? FormattableString.Invariant($"{lpi:0} DOTS PER INCH  STOCHASTIC")
            : FormattableString.Invariant(
                $"{lpi:0.0} LPI  {angle:0.0} DEG  {screen.Dot.ToString().ToUpperInvariant()}"
            );
    }

    /// <summary>Lines of at most so many letters; what is longer goes on below, at a space where there is one.</summary>
    internal static IEnumerable<string> Wrapped(IEnumerable<string> lines, int letters)
    {
        foreach (var line in lines)
        {
            var rest = line;
            while (rest.Length > letters)
            {
                var space = rest.LastIndexOf(' ', letters);
                var cut = space > letters / 2 ? space : letters;
                yield return rest[..cut].TrimEnd();
                rest = "  " + rest[cut..].TrimStart();
            }
            yield return rest;
        }
    }
}
