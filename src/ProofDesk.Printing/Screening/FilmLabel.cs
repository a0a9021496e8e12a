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
    internal IEnumerable<string> Lines(Film film, OutputDevice device)
    {
        var (lpi, angle) = film.TrueScreen;
        var plate = film.Plate;
        yield return $"ORDER {Order}  PRINT {Print}  VERSION {Version}";
        yield return $"SCREEN {Screen} OF {ScreenCount}: {plate.Name}";
        yield return $"INK {plate.Ink.Name}, {plate.Strokes} STROKE{(plate.Strokes == 1 ? "" : "S")}{(plate.FlashAfter ? ", FLASH" : "")}";
        yield return plate.Screen.IsStochastic
            ? FormattableString.Invariant($"MESH {plate.Mesh.Label}  {lpi:0} DOTS PER INCH  STOCHASTIC")
            : FormattableString.Invariant(
                $"MESH {plate.Mesh.Label}  {lpi:0.0} LPI  {angle:0.0} DEG  {plate.Screen.Dot.ToString().ToUpperInvariant()}"
            );
        yield return FormattableString.Invariant(
            $"{film.Width / device.XDpi * 25.4:0.0} X {film.Height / device.YDpi * 25.4:0.0} MM AT {device.XDpi:0.#} X {device.YDpi:0.#} DPI, 1:1"
        );
        yield return device.HandOver == HandOver.DotsOurs ? "DOTS BOUND" : "TONES BOUND, DOTS SIMULATED";
        yield return $"CODE {ShortCode}  SHA-256 OF THE IMAGE AREA:";
        yield return ImageSha256[..32];
        yield return ImageSha256[32..];
    }
}

/// <summary>Distances of the frame template, millimetres (common practice).</summary>
/// <param name="MarkDistanceMm">From the image's edge to the centre of the register mark.</param>
/// <param name="MarkLineMm">Width of the mark's lines.</param>
/// <param name="MarkSizeMm">Across the mark.</param>
/// <param name="SideMarginMm">Film beside the image.</param>
/// <param name="LeastWidthMm">A narrow print still gets a film this wide, for the label.</param>
public sealed record FrameTemplate(
    double MarkDistanceMm,
    double MarkLineMm,
    double MarkSizeMm,
    double SideMarginMm,
    double LeastWidthMm
)
{
    public static FrameTemplate Usual { get; } = new(16, 0.125, 12, 15, 150);
}
