using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>What the film says about itself, outside the image.</summary>
/// <param name="ShortCode">A few characters people can read to each other; also in the square code.</param>
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
);

/// <summary>Distances of the frame template, millimetres (shop-practice 3, common practice).</summary>
/// <param name="MarkDistanceMm">From the image's edge to the centre of the register mark.</param>
public sealed record FrameTemplate(double MarkDistanceMm, double MarkLineMm, double MarkSizeMm, double SideMarginMm)
{
    public static FrameTemplate Usual { get; } = new(16, 0.125, 12, 15);
}

/// <summary>
/// The whole film as it leaves for the device: the image at its place on the frame template, register marks, scale
/// bar, wedge, label and square code. Read in bands, like the image itself.
/// </summary>
public abstract class FilmSheet
{
    public abstract int Width { get; }
    public abstract int Height { get; }
    public abstract OutputDevice Device { get; }

    /// <summary>Fills the band with the sheet's rows from <paramref name="top"/> on; safe from several threads.</summary>
    public abstract void ReadRows(int top, BitPlane band);

    /// <param name="code">Modules of the square code, true = dark.</param>
    public static FilmSheet Of(Film film, OutputDevice device, FrameTemplate template, FilmLabel label, bool[,] code) =>
        throw new NotSupportedException();
}
