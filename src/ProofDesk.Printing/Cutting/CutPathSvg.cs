using System.Globalization;
using System.Text;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Cutting;

/// <summary>What stands on a cut file besides the paths.</summary>
/// <param name="Title">E.g. "01 White".</param>
/// <param name="Notes">Lines beside the image, not cut.</param>
/// <param name="Fill">Colour of the sheet as "#rrggbb".</param>
public sealed record CutSheetLabel(string Title, IReadOnlyList<string> Notes, string Fill);

/// <summary>
/// Cut paths as SVG 1.1 (W3C) at true size: one closed path a piece with its holes (even-odd), pieces in groups,
/// a weeding box around each group, register marks at the same place in every colour. Lengths are mm.
/// </summary>
public static class CutPathSvg
{
    /// <summary>From the image to the sheet's edge: room for marks and notes.</summary>
    public const double MarginMm = 20;

    private const double MarkMm = 8;

    /// <param name="mirrored">The sheet is cut from its back: left and right change places.</param>
    /// <param name="only">One group of the layer; null = all.</param>
    public static string Write(
        CutLayer layer,
        double widthMm,
        double heightMm,
        bool mirrored,
        CutSheetLabel label,
        int? only = null
    )
    {
        var svg = new StringBuilder();
        var (width, height) = (widthMm + 2 * MarginMm, heightMm + 2 * MarginMm);
        svg.Append(
            CultureInfo.InvariantCulture,
            $"<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{Mm(width)}mm\" height=\"{Mm(height)}mm\" viewBox=\"0 0 {Mm(width)} {Mm(height)}\">\n"
        );
        svg.Append(CultureInfo.InvariantCulture, $"<title>{Xml(label.Title)}</title>\n");
        svg.Append(CultureInfo.InvariantCulture, $"<desc>{Xml(string.Join("; ", label.Notes))}</desc>\n");
        Marks(svg, width, height);
        Notes(svg, label, height);
        double X(double x) => MarginMm + (mirrored ? widthMm - x : x);
        var groups = layer
            .Groups.Select((g, i) => (Group: g, Number: i + 1))
            .Where(g => only is null || g.Number == only);
        foreach (var (group, number) in groups)
        {
            WeedingBox(svg, group.Box, number, X);
            svg.Append(
                CultureInfo.InvariantCulture,
                $"<g id=\"group-{number}\" fill=\"{label.Fill}\" fill-rule=\"evenodd\" stroke=\"none\">\n"
            );
            for (var i = 0; i < group.Pieces.Length; i++)
            {
                svg.Append(CultureInfo.InvariantCulture, $"<path id=\"piece-{number}-{i + 1}\" d=\"");
                Path(svg, group.Pieces[i].Outline, X);
                foreach (var hole in group.Pieces[i].Holes)
                    Path(svg, hole, X);
                svg.Append("\"/>\n");
            }
            svg.Append("</g>\n");
        }
        return svg.Append("</svg>\n").ToString();
    }

    private static void Path(StringBuilder svg, Contour contour, Func<double, double> x)
    {
        for (var i = 0; i < contour.Points.Length; i++)
        {
            svg.Append(
                i == 0 ? 'M'
                : i == 1 ? 'L'
                : ' '
            );
            svg.Append(Mm(x(contour.Points[i].X))).Append(' ').Append(Mm(MarginMm + contour.Points[i].Y));
        }
        svg.Append('Z');
    }

    /// <summary>Cuts the waste around a group free, so that it comes off in one.</summary>
    private static void WeedingBox(StringBuilder svg, Box box, int number, Func<double, double> x)
    {
        const double Gap = CutLayer.GroupGapMm / 2;
        var left = Math.Min(x(box.Left), x(box.Right)) - Gap;
        svg.Append(
            CultureInfo.InvariantCulture,
            $"<rect id=\"weeding-box-{number}\" x=\"{Mm(left)}\" y=\"{Mm(MarginMm + box.Top - Gap)}\" width=\"{Mm(box.Width + 2 * Gap)}\" height=\"{Mm(box.Height + 2 * Gap)}\" fill=\"none\" stroke=\"#808080\" stroke-width=\"0.1\"/>\n"
        );
    }

    private static void Marks(StringBuilder svg, double width, double height)
    {
        svg.Append("<g id=\"register-marks\" fill=\"none\" stroke=\"#000000\" stroke-width=\"0.15\"><path d=\"");
        foreach (var x in (double[])[MarginMm / 2, width - MarginMm / 2])
        foreach (var y in (double[])[MarginMm / 2, height - MarginMm / 2])
            svg.Append(
                CultureInfo.InvariantCulture,
                $"M{Mm(x - MarkMm / 2)} {Mm(y)}L{Mm(x + MarkMm / 2)} {Mm(y)}M{Mm(x)} {Mm(y - MarkMm / 2)}L{Mm(x)} {Mm(y + MarkMm / 2)}"
            );
        svg.Append("\"/></g>\n");
    }

    /// <summary>Our own letters as pen strokes: no font is needed, and nothing of it is a closed path to cut.</summary>
    private static void Notes(StringBuilder svg, CutSheetLabel label, double height)
    {
        const double Capital = 2.2;
        const double Unit = Capital / StrokeFont.CapHeight;
        svg.Append(
            "<g id=\"notes\" fill=\"none\" stroke=\"#000000\" stroke-width=\"0.2\" stroke-linecap=\"round\"><path d=\""
        );
        var y = height - MarginMm + 5.5;
        foreach (var line in label.Notes.Take(4))
        {
            var x = MarginMm;
            foreach (var letter in StrokeFont.Plain(line))
            {
                foreach (var stroke in StrokeFont.Of(letter))
                    for (var i = 0; i < stroke.Length; i++)
                        svg.Append(i == 0 ? 'M' : 'L')
                            .Append(Mm(x + stroke[i].X * Unit))
                            .Append(' ')
                            .Append(Mm(y + stroke[i].Y * Unit));
                x += StrokeFont.Advance * Unit;
            }
            y += 1.6 * Capital;
        }
        svg.Append("\"/></g>\n");
    }

    private static string Mm(double mm) => Math.Round(mm, 3).ToString("0.###", CultureInfo.InvariantCulture);

    private static string Xml(string text) =>
        text.Replace("&", "&amp;", StringComparison.Ordinal)
            .Replace("<", "&lt;", StringComparison.Ordinal)
            .Replace(">", "&gt;", StringComparison.Ordinal);
}
