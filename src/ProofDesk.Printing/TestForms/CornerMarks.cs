using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.TestForms;

/// <summary>
/// The four corner marks of a form on a scan: three squares with a square hole and, at the top left, one without. They are
/// looked for on a coarse picture and then centred on the full one; holes and growth are concentric, so the centroid stays.
/// </summary>
internal sealed class CornerMarks
{
    /// <summary>Pixels of the coarse picture along its longer side: a mark is then some 30 across.</summary>
    private const int CoarseSide = 900;

    private readonly RgbPicture _scan;
    private readonly int _step;
    private readonly int _width;
    private readonly int _height;
    private readonly float[] _contrast;

    private CornerMarks(RgbPicture scan)
    {
        _scan = scan;
        _step = Math.Max(1, Math.Max(scan.Width, scan.Height) / CoarseSide);
        (_width, _height) = (scan.Width / _step, scan.Height / _step);
        _contrast = Contrast();
    }

    /// <summary>Centres in pixels, in the order of <see cref="FormCorner"/>.</summary>
    /// <exception cref="ScanProblem">They are not all there.</exception>
    public static (double X, double Y)[] Find(RgbPicture scan)
    {
        var marks = new CornerMarks(scan);
        var found = marks.Candidates();
        var solid = found.Where(c => !c.Hole).ToList();
        var rings = found.Where(c => c.Hole).ToList();
        // Of several solids the one whose size is the rings' own.
        var size = rings.Count == 0 ? 0 : rings.OrderBy(r => r.Side).ElementAt(rings.Count / 2).Side;
        rings = [.. rings.Where(r => Math.Abs(r.Side - size) <= 0.2 * size)];
        solid = [.. solid.Where(s => Math.Abs(s.Side - size) <= 0.2 * size)];
        if (rings.Count != 3 || solid.Count != 1)
            throw new ScanProblem(
                $"of the form's four corner marks {Math.Min(rings.Count, 3) + Math.Min(solid.Count, 1)} were found: {rings.Count} squares with a hole of 3, {solid.Count} solid of 1",
                "scan the whole form with 5 mm of plain cloth around it, flat, without shadow, and no other print beside it"
            );
        return marks.Ordered(solid[0], rings);
    }

    private (double X, double Y)[] Ordered(Candidate topLeft, List<Candidate> rings)
    {
        var (x0, y0, _) = Centre(topLeft);
        var centres = rings.Select(Centre).ToList();
        var opposite = centres.MaxBy(c => (c.X - x0) * (c.X - x0) + (c.Y - y0) * (c.Y - y0));
        var others = centres.Where(c => c != opposite).ToList();
        // Seen from the top left mark, the top right one lies counter-clockwise of the bottom left (y points down).
        var cross = (others[0].X - x0) * (others[1].Y - y0) - (others[0].Y - y0) * (others[1].X - x0);
        var (right, below) = cross > 0 ? (others[0], others[1]) : (others[1], others[0]);
        return [(x0, y0), (right.X, right.Y), (below.X, below.Y), (opposite.X, opposite.Y)];
    }

    private readonly record struct Candidate(int Left, int Top, int Right, int Bottom, bool Hole)
    {
        public double Side => (Right - Left + Bottom - Top + 2) / 2.0;
    }

    /// <summary>Centroid of what differs from the cloth, full resolution.</summary>
    private (double X, double Y, double Weight) Centre(Candidate mark)
    {
        var rim = (int)(0.15 * mark.Side) + 1;
        var (left, top) = (Math.Max(0, (mark.Left - rim) * _step), Math.Max(0, (mark.Top - rim) * _step));
        var (right, bottom) = (
            Math.Min(_scan.Width, (mark.Right + rim + 1) * _step),
            Math.Min(_scan.Height, (mark.Bottom + rim + 1) * _step)
        );
        double sx = 0,
            sy = 0,
            sum = 0;
        for (var y = top; y < bottom; y++)
        for (var x = left; x < right; x++)
        {
            var weight = Math.Clamp(Difference(x, y, 1) / _full, 0, 1);
            if (weight < 0.3)
                continue;
            sx += weight * (x + 0.5);
            sy += weight * (y + 0.5);
            sum += weight;
        }
        return (sx / sum, sy / sum, sum);
    }

    private double _full;
    private LinearRgb _cloth;

    /// <summary>Difference from the cloth, 1 = as much as the strongest inks; the cloth is the median of the rim.</summary>
    private float[] Contrast()
    {
        var rim = new List<LinearRgb>();
        for (var x = 0; x < _width; x++)
            rim.AddRange([Mean(x, 0), Mean(x, _height - 1)]);
        for (var y = 0; y < _height; y++)
            rim.AddRange([Mean(0, y), Mean(_width - 1, y)]);
        double Median(Func<LinearRgb, double> of) => rim.Select(of).Order().ElementAt(rim.Count / 2);
        _cloth = new(Median(c => c.R), Median(c => c.G), Median(c => c.B));
        var contrast = new float[_width * _height];
        for (var y = 0; y < _height; y++)
        for (var x = 0; x < _width; x++)
            contrast[y * _width + x] = (float)Distance(Mean(x, y));
        _full = contrast.Order().ElementAt((int)(0.97 * contrast.Length));
        return contrast;
    }

    private double Difference(int x, int y, int size) => Distance(FormScan.Mean(_scan, x, y, size, size));

    private double Distance(LinearRgb c) =>
        Math.Abs(c.R - _cloth.R) + Math.Abs(c.G - _cloth.G) + Math.Abs(c.B - _cloth.B);

    private LinearRgb Mean(int x, int y) => FormScan.Mean(_scan, x * _step, y * _step, _step, _step);

    /// <summary>Square blobs of ink with or without a hole in the middle.</summary>
    private List<Candidate> Candidates()
    {
        var found = new List<Candidate>();
        var seen = new bool[_contrast.Length];
        var stack = new Stack<int>();
        for (var start = 0; start < _contrast.Length; start++)
        {
            if (seen[start] || !IsInk(start))
                continue;
            var (left, top, right, bottom, count) = (_width, _height, 0, 0, 0);
            stack.Push(start);
            seen[start] = true;
            while (stack.TryPop(out var at))
            {
                var (x, y) = (at % _width, at / _width);
                (left, right) = (Math.Min(left, x), Math.Max(right, x));
                (top, bottom) = (Math.Min(top, y), Math.Max(bottom, y));
                count++;
                for (var d = 0; d < 4; d++)
                {
                    var (u, v) = (
                        x
                            + (
                                d == 0 ? 1
                                : d == 1 ? -1
                                : 0
                            ),
                        y
                            + (
                                d == 2 ? 1
                                : d == 3 ? -1
                                : 0
                            )
                    );
                    if (u < 0 || v < 0 || u >= _width || v >= _height || seen[v * _width + u] || !IsInk(v * _width + u))
                        continue;
                    seen[v * _width + u] = true;
                    stack.Push(v * _width + u);
                }
            }
            var (w, h) = (right - left + 1, bottom - top + 1);
            // A turned square fills less of its box; letters and scales fill far less, or are not square.
            if (Math.Min(w, h) < 12 || Math.Abs(w - h) > 0.12 * Math.Max(w, h) || count < 0.68 * w * h)
                continue;
            var middle = (top + bottom) / 2 * _width + (left + right) / 2;
            found.Add(new(left, top, right, bottom, !IsInk(middle)));
        }
        return found;
    }

    private bool IsInk(int at) => _contrast[at] > 0.5 * _full;
}
