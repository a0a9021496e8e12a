using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.TestForms;

/// <summary>
/// A scan laid over the form: every pixel knows where on the form it lies, so edges are measured between pixels and nothing
/// is interpolated. Light is linear; the scan must be plain sRGB without any automatic correction.
/// </summary>
internal sealed class FormScan
{
    /// <summary>Coarser scans do not show a 0.3 mm line to a tenth of its width.</summary>
    public const double LeastPpi = 190;

    private static readonly double[] Light = [.. Enumerable.Range(0, 256).Select(code => Srgb.Decode(code / 255.0))];

    private readonly RgbPicture _scan;
    private readonly PlaneMap _toScan;
    private readonly PlaneMap _toForm;

    private FormScan(RgbPicture scan, PlaneMap toScan, PlaneMap toForm, double pixelsPerMm) =>
        (_scan, _toScan, _toForm, PixelsPerMm) = (scan, toScan, toForm, pixelsPerMm);

    public double PixelsPerMm { get; }

    /// <exception cref="ScanProblem">The marks are not there, or the picture is too coarse or too much pulled.</exception>
    public static FormScan Of(RgbPicture scan, TestFormLayout layout)
    {
        var form = Enum.GetValues<FormCorner>().Select(layout.CornerMark).ToArray();
        var found = CornerMarks.Find(scan);
        var across = (Length(found[0], found[1]) + Length(found[2], found[3])) / (2 * Length(form[0], form[1]));
        var down = (Length(found[0], found[2]) + Length(found[1], found[3])) / (2 * Length(form[0], form[2]));
        if (Math.Abs(across - down) > 0.05 * down)
            throw new ScanProblem(
                FormattableString.Invariant(
                    $"the marks are {across:0.00} px per mm apart across and {down:0.00} down; they may differ by 5 %"
                ),
                "lay the cloth down without pulling it, or check that this is the form the readings name"
            );
        var perMm = Math.Sqrt(across * down);
        if (perMm * 25.4 < LeastPpi)
            throw new ScanProblem(
                FormattableString.Invariant($"the scan has {perMm * 25.4:0} ppi, at least {LeastPpi:0} are needed"),
                "scan at 300 to 600 ppi"
            );
        return new(scan, PlaneMap.Of(form, found), PlaneMap.Of(found, form), perMm);

        static double Length((double X, double Y) a, (double X, double Y) b) =>
            Math.Sqrt((a.X - b.X) * (a.X - b.X) + (a.Y - b.Y) * (a.Y - b.Y));
    }

    /// <summary>Calls back for each pixel whose centre lies in a rectangle of the form, with its place on the form.</summary>
    public void Each(double left, double top, double width, double height, Action<double, double, LinearRgb> pixel)
    {
        (double X, double Y)[] corners =
        [
            _toScan.Map(left, top),
            _toScan.Map(left + width, top),
            _toScan.Map(left, top + height),
            _toScan.Map(left + width, top + height),
        ];
        var (x0, x1) = (Math.Max(0, (int)corners.Min(c => c.X)), Math.Min(_scan.Width - 1, (int)corners.Max(c => c.X)));
        var (y0, y1) = (
            Math.Max(0, (int)corners.Min(c => c.Y)),
            Math.Min(_scan.Height - 1, (int)corners.Max(c => c.Y))
        );
        for (var y = y0; y <= y1; y++)
        for (var x = x0; x <= x1; x++)
        {
            var (fx, fy) = _toForm.Map(x + 0.5, y + 0.5);
            if (fx >= left && fx < left + width && fy >= top && fy < top + height)
                pixel(fx, fy, Mean(_scan, x, y, 1, 1));
        }
    }

    /// <summary>Mean of a rectangle of the form.</summary>
    public LinearRgb Mean(double left, double top, double width, double height)
    {
        double r = 0,
            g = 0,
            b = 0;
        long count = 0;
        Each(
            left,
            top,
            width,
            height,
            (_, _, c) =>
            {
                (r, g, b) = (r + c.R, g + c.G, b + c.B);
                count++;
            }
        );
        if (count == 0)
            throw new ScanProblem(
                FormattableString.Invariant(
                    $"the part of the form {left:0} mm from the left and {top:0} mm from the top is outside the scan"
                ),
                "scan the whole form"
            );
        return new(r / count, g / count, b / count);
    }

    /// <summary>Mean of a box of pixels; pixels outside the picture are left out.</summary>
    public static LinearRgb Mean(RgbPicture scan, int x, int y, int width, int height)
    {
        double r = 0,
            g = 0,
            b = 0;
        for (var v = y; v < y + height; v++)
        for (var u = x; u < x + width; u++)
        {
            var at = 3 * ((long)v * scan.Width + u);
            r += Light[scan.Pixels[at]];
            g += Light[scan.Pixels[at + 1]];
            b += Light[scan.Pixels[at + 2]];
        }
        var share = 1.0 / (width * height);
        return new(r * share, g * share, b * share);
    }

    public static double Channel(LinearRgb c, int channel) =>
        channel switch
        {
            0 => c.R,
            1 => c.G,
            _ => c.B,
        };
}
