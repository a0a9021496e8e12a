using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace ProofDesk.Printing.Proofs;

/// <summary>A panel as the cutter reads it: SVG in millimetres, cut line, sew line, notches, words. Mirrored with the print.</summary>
/// <param name="Title">E.g. "tee, L, front, body".</param>
/// <param name="SewLine">Closed outline, mm.</param>
/// <param name="CutLine">The same with the seam allowance.</param>
internal sealed record PanelSvg(
    string Title,
    ImmutableArray<(double X, double Y)> SewLine,
    ImmutableArray<(double X, double Y)> CutLine,
    bool Mirrored
)
{
    private const double NotchEveryMm = 120;

    /// <summary>The outline moved outwards along its normals; corners are cut off rather than drawn to a point.</summary>
    public static ImmutableArray<(double X, double Y)> Allowed(ImmutableArray<(double X, double Y)> outline, double mm)
    {
        var points = Distinct(outline);
        var outwards = Area(points) > 0 ? 1 : -1;
        var moved = ImmutableArray.CreateBuilder<(double X, double Y)>();
        for (var i = 0; i < points.Length; i++)
        {
            var (before, here, after) = (
                points[(i + points.Length - 1) % points.Length],
                points[i],
                points[(i + 1) % points.Length]
            );
            var (a, b) = (Normal(before, here), Normal(here, after));
            var turn = a.X * b.X + a.Y * b.Y;
            if (turn > 0.7)
            {
                var (nx, ny) = (a.X + b.X, a.Y + b.Y);
                var scale = 2 / (nx * nx + ny * ny);
                moved.Add((here.X + outwards * mm * nx * scale, here.Y + outwards * mm * ny * scale));
                continue;
            }
            moved.Add((here.X + outwards * mm * a.X, here.Y + outwards * mm * a.Y));
            moved.Add((here.X + outwards * mm * b.X, here.Y + outwards * mm * b.Y));
        }
        return moved.ToImmutable();
    }

    public string Write()
    {
        var (left, top) = (CutLine.Min(p => p.X) - 5, CutLine.Min(p => p.Y) - 5);
        var (width, height) = (CutLine.Max(p => p.X) + 5 - left, CutLine.Max(p => p.Y) + 5 - top);
        (double X, double Y) At((double X, double Y) p) => (Mirrored ? width - (p.X - left) : p.X - left, p.Y - top);
        var svg = new StringBuilder();
        svg.Append(
            CultureInfo.InvariantCulture,
            $"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:0.##}mm\" height=\"{height:0.##}mm\" viewBox=\"0 0 {width:0.##} {height:0.##}\">\n"
        );
        svg.Append(CultureInfo.InvariantCulture, $"<title>{Title}{(Mirrored ? ", mirrored" : "")}</title>\n");
        Line(svg, "cut-line", "#d00000", "", CutLine.Select(At), close: true);
        Line(svg, "sew-line", "#0060c0", " stroke-dasharray=\"4 2\"", SewLine.Select(At), close: true);
        foreach (var (from, to) in Notches())
            Line(svg, "notch", "#d00000", "", [At(from), At(to)], close: false);
        var middle = At((left + width / 2, top + height / 2));
        svg.Append(
            CultureInfo.InvariantCulture,
            $"<text x=\"{middle.X:0.##}\" y=\"{middle.Y:0.##}\" font-family=\"sans-serif\" font-size=\"10\" text-anchor=\"middle\">{Title}{(Mirrored ? ", mirrored" : "")}</text>\n</svg>\n"
        );
        return svg.ToString();
    }

    /// <summary>Ticks from the sew line half way to the cut line, so that the next panel's ticks can be laid on them.</summary>
    private IEnumerable<((double X, double Y) From, (double X, double Y) To)> Notches()
    {
        var points = Distinct(SewLine);
        var outwards = Area(points) > 0 ? 1 : -1;
        var allowance = Math.Sqrt(CutLine.Min(p => Squared(p, points[0])));
        var left = NotchEveryMm / 2;
        for (var i = 0; i < points.Length; i++)
        {
            var (a, b) = (points[i], points[(i + 1) % points.Length]);
            var length = Math.Sqrt(Squared(a, b));
            for (; left <= length; left += NotchEveryMm)
            {
                var n = Normal(a, b);
                var from = (X: a.X + (b.X - a.X) * left / length, Y: a.Y + (b.Y - a.Y) * left / length);
                yield return (from, (from.X + outwards * n.X * allowance / 2, from.Y + outwards * n.Y * allowance / 2));
            }
            left -= length;
        }
    }

    private static void Line(
        StringBuilder svg,
        string name,
        string colour,
        string dashes,
        IEnumerable<(double X, double Y)> points,
        bool close
    )
    {
        var path = string.Join(
            " L ",
            points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.X:0.##} {p.Y:0.##}"))
        );
        svg.Append(
            CultureInfo.InvariantCulture,
            $"<path class=\"{name}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"0.3\"{dashes} d=\"M {path}{(close ? " Z" : "")}\"/>\n"
        );
    }

    private static (double X, double Y)[] Distinct(ImmutableArray<(double X, double Y)> outline)
    {
        var points = new List<(double X, double Y)>();
        foreach (var point in outline)
            if (points.Count == 0 || Squared(points[^1], point) > 1e-6)
                points.Add(point);
        if (points.Count > 1 && Squared(points[^1], points[0]) <= 1e-6)
            points.RemoveAt(points.Count - 1);
        return [.. points];
    }

    /// <summary>Unit normal; outwards when the area is positive.</summary>
    private static (double X, double Y) Normal((double X, double Y) a, (double X, double Y) b)
    {
        var length = Math.Sqrt(Squared(a, b));
        return ((b.Y - a.Y) / length, (a.X - b.X) / length);
    }

    private static double Area((double X, double Y)[] points)
    {
        var sum = 0.0;
        for (var i = 0; i < points.Length; i++)
        {
            var (a, b) = (points[i], points[(i + 1) % points.Length]);
            sum += a.X * b.Y - b.X * a.Y;
        }
        return sum / 2;
    }

    private static double Squared((double X, double Y) a, (double X, double Y) b) =>
        (a.X - b.X) * (a.X - b.X) + (a.Y - b.Y) * (a.Y - b.Y);
}
