using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// One image on a screen, or the same image several times (neck labels): a step of whole film pixels, so that every image
/// is the same bits. Films of different screens are never put on one sheet.
/// </summary>
/// <param name="GapMm">Bare film between two images.</param>
public sealed record ScreenLayout(int Columns, int Rows, double GapMm)
{
    public const int MostASide = 8;
    public const double UsualGapMm = 20;
    public const double LeastGapMm = 5;
    public const double MostGapMm = 200;

    /// <summary>The usual: one film a screen, one image on it.</summary>
    public static ScreenLayout One { get; } = new(1, 1, 0);

    public int Images => Columns * Rows;

    public bool IsOne => Images == 1;

    /// <summary>"4 images, 2 x 2".</summary>
    public string Words => $"{Images} images, {Columns} x {Rows}";

    /// <summary>Width of all images and the gaps between them, mm.</summary>
    public double WidthMm(double imageMm) => Columns * imageMm + (Columns - 1) * GapMm;

    /// <summary>Height of all images and the gaps between them, mm.</summary>
    public double HeightMm(double imageMm) => Rows * imageMm + (Rows - 1) * GapMm;

    /// <summary>From one image's left edge to the next one's, film pixels.</summary>
    internal int StepX(Film film, OutputDevice device) => film.Width + Gap(device.XDpi);

    /// <summary>From one image's top edge to the next one's, film pixels.</summary>
    internal int StepY(Film film, OutputDevice device) => film.Height + Gap(device.YDpi);

    private int Gap(double dpi) => (int)Math.Round(GapMm / 25.4 * dpi, MidpointRounding.AwayFromZero);
}
