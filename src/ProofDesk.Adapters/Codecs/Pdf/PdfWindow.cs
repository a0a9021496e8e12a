using NetVips;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>
/// The part of the page that is drawn, in printer's points from the bottom left corner of its box as it is seen. A small logo on a
/// large sheet gets all the pixels.
/// </summary>
/// <param name="InkedWidth">Width of what is inked in it.</param>
internal sealed record PdfWindow(double Left, double Bottom, double Width, double Height, double InkedWidth)
{
    /// <summary>Pixels of a small drawing left around what it shows: antialiasing may hide a hair of it.</summary>
    private const int Margin = 2;

    public static PdfWindow Whole(PdfPage page) => new(0, 0, page.WidthPoints, page.HeightPoints, page.WidthPoints);

    /// <param name="ink">One band, 0 where nothing is drawn: the whole page at a low resolution.</param>
    public static PdfWindow Around(Image ink, PdfPage page)
    {
        var found = ink.FindTrim(threshold: 1, background: [0], lineArt: true);
        var (left, top, width, height) = ((int)found[0], (int)found[1], (int)found[2], (int)found[3]);
        if (width < 1 || height < 1)
            return Whole(page);
        var (across, down) = (page.WidthPoints / ink.Width, page.HeightPoints / ink.Height);
        var (x, right) = (Math.Max(0, left - Margin), Math.Min(ink.Width, left + width + Margin));
        var (y, bottom) = (Math.Max(0, top - Margin), Math.Min(ink.Height, top + height + Margin));
        return new(
            x * across,
            page.HeightPoints - bottom * down,
            (right - x) * across,
            (bottom - y) * down,
            width * across
        );
    }

    public int Columns(double dpi) => Math.Max(1, (int)Math.Ceiling(Width * dpi / 72 - 1e-6));

    public int Rows(double dpi) => Math.Max(1, (int)Math.Ceiling(Height * dpi / 72 - 1e-6));
}
