using System.Buffers.Binary;
using System.Collections.Concurrent;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// The whole film as it leaves for the device: the image at its place on the frame template, register marks, scale
/// bar, wedge, label and square code. All sheets of a print have the same size and origin (top centre), so that
/// pre-registered frames fit. Read in bands like the image itself: only the two zones of marks are held in memory.
/// </summary>
public sealed class FilmSheet
{
    private const double HeadMm = 66;
    private const double FootMm = 56;
    private const double LeastCodeMm = 14;

    /// <summary>From the wedge's left edge to the sheet's centre.</summary>
    internal const double WedgeLeftMm = 68;

    private readonly Film _film;
    private readonly BitPlane _head;
    private readonly BitPlane _foot;
    private readonly ConcurrentBag<BitPlane> _bands = [];

    private FilmSheet(Film film, OutputDevice device, BitPlane head, BitPlane foot)
    {
        (_film, Device, _head, _foot) = (film, device, head, foot);
        ImageLeft = (head.Width - film.Width) / 2;
        ImageTop = head.Height;
    }

    public OutputDevice Device { get; }
    public int Width => _head.Width;
    public int Height => _head.Height + _film.Height + _foot.Height;

    /// <summary>Column of the image area's left edge on the sheet, before mirroring.</summary>
    public int ImageLeft { get; }

    /// <summary>Row of the image area's top edge on the sheet.</summary>
    public int ImageTop { get; }

    public int ImageWidth => _film.Width;
    public int ImageHeight => _film.Height;

    /// <param name="code">Modules of the square code, true = dark, without its quiet zone.</param>
    public static FilmSheet Of(Film film, OutputDevice device, FrameTemplate template, FilmLabel label, bool[,] code)
    {
        var imageMm = film.Width / device.XDpi * 25.4;
        var widthMm = Math.Max(imageMm + 2 * template.SideMarginMm, template.LeastWidthMm);
        // An even number of pixels beside the image, or its centre would not be the sheet's.
        var width = (int)Math.Ceiling(widthMm / 25.4 * device.XDpi);
        width += (width - film.Width) & 1;
        widthMm = width / device.XDpi * 25.4;
        var headMm = Math.Max(HeadMm, device.ImageFromPalletEdgeMm);
        var head = new BitPlane(width, (int)Math.Round(headMm / 25.4 * device.YDpi));
        var foot = new BitPlane(width, (int)Math.Round(FootMm / 25.4 * device.YDpi));
        headMm = head.Height / device.YDpi * 25.4;

        var centre = widthMm / 2;
        var marks = new FilmMarks(head, device);
        var markTop = headMm - template.MarkDistanceMm - template.MarkSizeMm / 2;
        marks.PalletEdge(headMm - device.ImageFromPalletEdgeMm, widthMm);
        marks.Register(centre, headMm - template.MarkDistanceMm, template);
        marks.ThisSideUp(5, markTop + 2);
        if (!label.Released)
            marks.NotReleased(centre + 10, markTop + 3.5);
        var labelTop = markTop - 38;
        marks.Label(5, labelTop, widthMm - 10 - LeastCodeMm - 6, label.Lines(film, device));
        marks.SquareCode(widthMm - 8, labelTop + 2, LeastCodeMm, code);

        marks = new FilmMarks(foot, device);
        marks.Register(centre, template.MarkDistanceMm, template);
        if (!label.Released)
            marks.NotReleased(centre + 10, template.MarkDistanceMm - 2);
        var scaleTop = template.MarkDistanceMm + template.MarkSizeMm / 2 + 3;
        marks.ScaleBar(centre, scaleTop, widthMm - 2 * 5);
        var dots = device.HandOver == HandOver.DotsOurs ? ThresholdArray.For(film.Plate.Screen, device).Tile : null;
        marks.Wedge(centre - WedgeLeftMm, scaleTop + 12, dots);
        marks.LinePair(centre + 26, scaleTop + 12);
        return new(film, device, head, foot) { WedgeTopMm = scaleTop + 12 };
    }

    /// <summary>Top of the wedge below the image, mm.</summary>
    internal double WedgeTopMm { get; private init; }

    /// <summary>Fills the band with the sheet's rows from <paramref name="top"/> on; safe from several threads.</summary>
    public void ReadRows(int top, BitPlane band)
    {
        if (band.Width != Width)
            throw new ArgumentException($"the band is {band.Width} px wide, the sheet {Width} px");
        var first = Math.Max(top, ImageTop);
        var last = Math.Min(top + band.Height, ImageTop + _film.Height);
        // Bands of one height come again and again: their rows are lent out, one to a thread.
        BitPlane? image = null;
        if (first < last && (!_bands.TryTake(out image) || image.Height != last - first))
            image = new(_film.Width, last - first);
        if (image is not null)
            _film.ReadRows(first - ImageTop, image);
        for (var y = 0; y < band.Height; y++)
        {
            var row = band.Row(y);
            var sheetY = top + y;
            if (sheetY >= 0 && sheetY < ImageTop)
                _head.Row(sheetY).CopyTo(row);
            else if (sheetY >= ImageTop + _film.Height && sheetY < Height)
                _foot.Row(sheetY - ImageTop - _film.Height).CopyTo(row);
            else
                row.Clear();
            if (image is not null && sheetY >= first && sheetY < last)
                BitRows.CopyBits(image.Row(sheetY - first), 0, row, ImageLeft, _film.Width);
            if (Device.Mirror)
                Mirror(row, Width);
        }
        if (image is not null)
            _bands.Add(image);
    }

    private static void Mirror(Span<ulong> row, int width)
    {
        var turned = new ulong[row.Length];
        for (var i = 0; i < row.Length; i++)
            turned[^(i + 1)] = Reversed(row[i]);
        row.Clear();
        BitRows.CopyBits(turned, row.Length * 64 - width, row, 0, width);
    }

    private static ulong Reversed(ulong v)
    {
        v = v >> 1 & 0x5555555555555555 | (v & 0x5555555555555555) << 1;
        v = v >> 2 & 0x3333333333333333 | (v & 0x3333333333333333) << 2;
        v = v >> 4 & 0x0F0F0F0F0F0F0F0F | (v & 0x0F0F0F0F0F0F0F0F) << 4;
        return BinaryPrimitives.ReverseEndianness(v);
    }
}
