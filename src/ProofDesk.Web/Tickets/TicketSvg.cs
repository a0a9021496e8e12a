using System.Globalization;
using System.Text;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Web.Tickets;

/// <summary>The placement drawing as the pieces of an SVG: everything in millimetres of the garment.</summary>
public sealed record TicketSvg(TapeDrawing Drawing)
{
    private const double Room = 30;

    public string ViewBox
    {
        get
        {
            var (left, top, right, bottom) = Drawing.Frame;
            return $"{N(left - Room)} {N(top - Room)} {N(right - left + 2 * Room)} {N(bottom - top + 2 * Room)}";
        }
    }

    /// <summary>Type and strokes are drawn as large as the garment asks for.</summary>
    public double Unit
    {
        get
        {
            var (left, top, right, bottom) = Drawing.Frame;
            return Math.Max(right - left, bottom - top) / 100;
        }
    }

    public IEnumerable<string> Outlines => Drawing.Outlines.Select(points => Path(points) + "Z");

    public IEnumerable<string> Seams => Drawing.Seams.Select(points => Path(points));

    public string Ink => Path(Drawing.Ink) + "Z";

    public static string Path(IEnumerable<(double X, double Y)> points)
    {
        var path = new StringBuilder();
        foreach (var (x, y) in points)
            path.Append(path.Length == 0 ? 'M' : 'L').Append(N(x)).Append(' ').Append(N(y));
        return path.ToString();
    }

    /// <summary>A measured line with a short bar across each end.</summary>
    public string Tape(TapeLine line)
    {
        var (dx, dy) = (line.To.X - line.From.X, line.To.Y - line.From.Y);
        var length = Math.Max(0.001, Math.Sqrt(dx * dx + dy * dy));
        var (nx, ny) = (-dy / length * 1.2 * Unit, dx / length * 1.2 * Unit);
        return $"M{N(line.From.X)} {N(line.From.Y)}L{N(line.To.X)} {N(line.To.Y)}"
            + string.Concat(
                new[] { line.From, line.To }.Select(p => $"M{N(p.X - nx)} {N(p.Y - ny)}L{N(p.X + nx)} {N(p.Y + ny)}")
            );
    }

    public static (double X, double Y) Middle(TapeLine line) =>
        ((line.From.X + line.To.X) / 2, (line.From.Y + line.To.Y) / 2);

    public static string Mm(double mm) => FormattableString.Invariant($"{mm:0.#} mm");

    public static string N(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
