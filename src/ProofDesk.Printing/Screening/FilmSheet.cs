using System.Buffers.Binary;
using System.Collections.Concurrent;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// The whole film as it leaves for the device: the image, or the same image several times, at its place on the frame
/// template, register marks, scale bar, wedge, label and square code. All sheets of a print have the same size and origin
/// (top centre), so that pre-registered frames fit. Read in bands like the image itself: only the zones of marks
/// are held in memory.
/// </summary>
public sealed class FilmSheet
{
    private const double FootMm = 56;
    private const double LeastCodeMm = 14;
    private const double LabelLeftMm = 5;

    /// <summary>Right of the label: the square code and the air around it.</summary>
    private const double BesideLabelMm = LabelLeftMm + LeastCodeMm + 11;

    /// <summary>Label to the top of the register mark.</summary>
    private const double LabelAirMm = 3.4;

    /// <summary>Marks of one image's centre reach from here to there, outside it.</summary>
    private const double TickFromMm = 2;
    private const double TickLengthMm = 6;

    /// <summary>From the wedge's left edge to the sheet's centre.</summary>
    internal const double WedgeLeftMm = 68;

    private readonly Film _film;
    private readonly ScreenLayout _layout;
    private readonly BitPlane _head;
    private readonly BitPlane _foot;
    private readonly BitPlane? _gap;
    private readonly int _stepX;
    private readonly int _stepY;
    private readonly ConcurrentBag<BitPlane> _bands = [];

    private FilmSheet(
        Film film,
        OutputDevice device,
        ScreenLayout layout,
        BitPlane head,
        BitPlane foot,
        BitPlane? gap,
        int left
    )
    {
        (_film, Device, _layout, _head, _foot, _gap) = (film, device, layout, head, foot, gap);
        (_stepX, _stepY) = (layout.StepX(film, device), layout.StepY(film, device));
        (ImageLeft, ImageTop) = (left, head.Height);
    }

    public OutputDevice Device { get; }
    public ScreenLayout Layout => _layout;
    public int Width => _head.Width;
    public int Height => _head.Height + BlockHeight + _foot.Height;

    /// <summary>Column of the (first) image area's left edge on the sheet, before mirroring.</summary>
    public int ImageLeft { get; }

    /// <summary>Row of the (first) image area's top edge on the sheet.</summary>
    public int ImageTop { get; }

    public int ImageWidth => _film.Width;
    public int ImageHeight => _film.Height;

    /// <summary>Film pixels from one image to the next, across and down.</summary>
    public (int X, int Y) Step => (_stepX, _stepY);

    /// <summary>All images and the gaps between them.</summary>
    public int BlockHeight => (_layout.Rows - 1) * _stepY + _film.Height;

    /// <summary>Top of the wedge below the images, mm.</summary>
    internal double WedgeTopMm { get; private init; }

    /// <summary>How wide the sheet of a print becomes, mm.</summary>
    public static double WidthMm(double imageMm, ScreenLayout layout, FrameTemplate template) =>
        Math.Max(layout.WidthMm(imageMm) + 2 * template.SideMarginMm, template.LeastWidthMm);

    /// <param name="code">Modules of the square code, true = dark, without its quiet zone.</param>
    public static FilmSheet Of(Film film, OutputDevice device, ScreenLayout layout, FilmLabel label, bool[,] code)
    {
        var template = device.Frame;
        var block = (layout.Columns - 1) * layout.StepX(film, device) + film.Width;
        var widthMm = Math.Max(block / device.XDpi * 25.4 + 2 * template.SideMarginMm, template.LeastWidthMm);
        // An even number of pixels beside the images, or their centre would not be the sheet's.
        var width = (int)Math.Ceiling(widthMm / 25.4 * device.XDpi);
        width += (width - block) & 1;
        widthMm = width / device.XDpi * 25.4;
        var left = (width - block) / 2;

        var lines = FilmLabel
            .Wrapped(label.Lines(film, device, layout), FilmMarks.LabelLetters(widthMm - BesideLabelMm))
            .ToArray();
        var labelMm = lines.Length * FilmMarks.LabelStepMm + LabelAirMm;
        var headMm = Math.Max(template.MarkReachMm + labelMm + 4, template.ImageFromPalletEdgeMm);
        var head = new BitPlane(width, (int)Math.Round(headMm / 25.4 * device.YDpi));
        var foot = new BitPlane(width, (int)Math.Round(FootMm / 25.4 * device.YDpi));
        headMm = head.Height / device.YDpi * 25.4;

        var centre = widthMm / 2;
        var marks = new FilmMarks(head, device);
        var markTop = headMm - template.MarkReachMm;
        marks.PalletEdge(headMm - template.ImageFromPalletEdgeMm, widthMm);
        marks.Register(centre, headMm - template.MarkDistanceMm, template);
        marks.ThisSideUp(LabelLeftMm, markTop + 2);
        var labelTop = markTop - labelMm;
        marks.Label(LabelLeftMm, labelTop, lines);
        marks.SquareCode(widthMm - 8, labelTop + 2, LeastCodeMm, code);
        Ticks(marks, film, device, layout, left, headMm - TickFromMm - TickLengthMm, TickLengthMm);

        marks = new FilmMarks(foot, device);
        marks.Register(centre, template.MarkDistanceMm, template);
        Ticks(marks, film, device, layout, left, TickFromMm, TickLengthMm);
        var scaleTop = template.MarkReachMm + 3;
        marks.ScaleBar(centre, scaleTop, widthMm - 2 * 5);
        var dots = device.HandOver == HandOver.DotsOurs ? ThresholdArray.For(film.Plate.Screen, device).Tile : null;
        marks.Wedge(centre - WedgeLeftMm, scaleTop + 12, dots, device.Tones);
        marks.LinePair(centre + 26, scaleTop + 12);
        if (!label.Released)
        {
            FilmStamp.Above(head, device.XDpi, device.YDpi);
            FilmStamp.Below(foot, device.XDpi, device.YDpi);
        }
        return new(film, device, layout, head, foot, Gap(film, device, layout, width, left), left)
        {
            WedgeTopMm = scaleTop + 12,
        };
    }

    /// <summary>Fills the band with the sheet's rows from <paramref name="top"/> on; safe from several threads.</summary>
    public void ReadRows(int top, BitPlane band)
    {
        if (band.Width != Width)
            throw new ArgumentException($"the band is {band.Width} px wide, the sheet {Width} px");
        for (var y = 0; y < band.Height; y++)
        {
            var row = band.Row(y);
            var sheetY = top + y;
            if (sheetY >= 0 && sheetY < ImageTop)
                _head.Row(sheetY).CopyTo(row);
            else if (sheetY >= ImageTop + BlockHeight && sheetY < Height)
                _foot.Row(sheetY - ImageTop - BlockHeight).CopyTo(row);
            else if (_gap is not null && sheetY >= ImageTop && (sheetY - ImageTop) % _stepY >= _film.Height)
                _gap.Row((sheetY - ImageTop) % _stepY - _film.Height).CopyTo(row);
            else
                row.Clear();
        }
        for (var image = 0; image < _layout.Rows; image++)
            Images(top, ImageTop + image * _stepY, band);
        if (Device.Mirror)
            for (var y = 0; y < band.Height; y++)
                Mirror(band.Row(y), Width);
    }

    /// <summary>The images whose upper edge is in one row of the sheet.</summary>
    private void Images(int top, int edge, BitPlane band)
    {
        var first = Math.Max(top, edge);
        var last = Math.Min(top + band.Height, edge + _film.Height);
        if (first >= last)
            return;
        // Bands of one height come again and again: their rows are lent out, one to a thread.
        if (!_bands.TryTake(out var image) || image.Height != last - first)
            image = new(_film.Width, last - first);
        _film.ReadRows(first - edge, image);
        for (var y = first; y < last; y++)
        for (var column = 0; column < _layout.Columns; column++)
            BitRows.CopyBits(image.Row(y - first), 0, band.Row(y - top), ImageLeft + column * _stepX, _film.Width);
        _bands.Add(image);
    }

    /// <summary>The bare film between two rows of images, with the centre marks of their columns.</summary>
    private static BitPlane? Gap(Film film, OutputDevice device, ScreenLayout layout, int width, int left)
    {
        if (layout.Rows == 1)
            return null;
        var gap = new BitPlane(width, layout.StepY(film, device) - film.Height);
        var length = Math.Min(TickLengthMm, layout.GapMm - 2 * TickFromMm);
        Ticks(new(gap, device), film, device, layout, left, (layout.GapMm - length) / 2, length);
        return gap;
    }

    /// <summary>A short line on the centre of each column; one image has the register marks for that.</summary>
    private static void Ticks(
        FilmMarks marks,
        Film film,
        OutputDevice device,
        ScreenLayout layout,
        int left,
        double top,
        double length
    )
    {
        if (layout.IsOne)
            return;
        for (var column = 0; column < layout.Columns; column++)
            marks.Tick(
                (left + column * layout.StepX(film, device) + film.Width / 2.0) / device.XDpi * 25.4,
                top,
                length,
                device.Frame.MarkLineMm
            );
    }

    internal static void Mirror(Span<ulong> row, int width)
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
