using System.Collections.Immutable;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>What a page says of itself before it is drawn.</summary>
internal sealed record PdfPage(int Number, int Of, PdfBox Box, PdfBox Media, int Rotation, double UserUnit)
{
    /// <summary>Printer's points as drawn: turned, and in the page's own unit.</summary>
    public double WidthPoints => (Turned ? Box.Height : Box.Width) * UserUnit;
    public double HeightPoints => (Turned ? Box.Width : Box.Height) * UserUnit;

    public required PdfUses Uses { get; init; }
    public ImmutableArray<PdfPicture> Pictures { get; init; } = [];
    public ImmutableArray<string> Words { get; init; } = [];

    /// <summary>False when the page's text could not be read, though the page can be drawn.</summary>
    public bool TextRead { get; init; } = true;
    public PdfExtras Extras { get; init; } = new(false, false, 0, 0);

    /// <summary>How far the box lies from the edges of the sheet as it is seen, in points.</summary>
    public (double Left, double Bottom, double Top) Corner
    {
        get
        {
            var (left, right) = (Box.Left - Media.Left, Media.Right - Box.Right);
            var (bottom, top) = (Box.Bottom - Media.Bottom, Media.Top - Box.Top);
            var (x, y, up) = Rotation switch
            {
                90 => (bottom, right, left),
                180 => (right, top, bottom),
                270 => (top, left, right),
                _ => (left, bottom, top),
            };
            return (x * UserUnit, y * UserUnit, up * UserUnit);
        }
    }

    private bool Turned => Rotation % 180 != 0;
}

/// <summary>A picture placed on the page.</summary>
/// <param name="Columns">Samples across.</param>
/// <param name="WidthPoints">As placed.</param>
internal sealed record PdfPicture(int Columns, int Rows, double WidthPoints, double HeightPoints);

/// <summary>What a pdf can carry besides a drawing; none of it is run, opened or drawn.</summary>
/// <param name="Scripts">JavaScript or an action that starts by itself.</param>
/// <param name="Attachments">Files inside the file.</param>
/// <param name="Notes">Comments and form fields on the page.</param>
/// <param name="HiddenLayers">Layers that are switched off.</param>
internal sealed record PdfExtras(bool Scripts, bool Attachments, int Notes, int HiddenLayers);
