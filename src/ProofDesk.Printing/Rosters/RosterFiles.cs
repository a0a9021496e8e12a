using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Cutting;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Rosters;

/// <summary>
/// What a roster hands over: pieces laid out on sheets (cut paths, or films of colour and backing for a
/// transfer), mirrored as the method is, a label under each; the list line by line; how many of each character.
/// </summary>
public static class RosterFiles
{
    public static ImmutableArray<ProductionFile> Of(Proof proof)
    {
        if (proof.Roster is not { } roster)
            return [];
        var (method, mirrored) = (proof.Request.Method, proof.Films.Device.Mirror);
        var files = ImmutableArray.CreateBuilder<ProductionFile>();
        // Pieces of one sheet are of one colour of sheet or ink.
        var inks = roster.Pieces.GroupBy(piece =>
            RosterPlates.InkFor(
                roster.Roster,
                method,
                RosterChecks.Ground(proof.Request.Grounds, piece.Entry) ?? proof.Request.Grounds[0]
            )
        );
        foreach (var same in inks)
        {
            var sheets = RosterNesting.Of([.. same], roster.Roster.Style.SheetWidthMm);
            for (var i = 0; i < sheets.Length; i++)
            {
                var name = $"roster/{VinylFiles.Slug(same.Key.Name)}-{i + 1:00}";
                if (same.Key.Kind == InkKind.Sheet)
                    files.Add(new ProductionText(name + ".svg", "image/svg+xml", Svg(sheets[i], mirrored, same.Key)));
                else
                    files.Add(Films(name + ".png", sheets[i], mirrored, proof, same.Key));
            }
        }
        files.Add(new ProductionText("roster/list.csv", "text/csv", List(roster)));
        files.Add(new ProductionText("roster/characters.csv", "text/csv", Characters(roster)));
        return files.ToImmutable();
    }

    /// <summary>Cut paths as true vectors, even-odd; labels are pen strokes, readable from the side that is cut.</summary>
    internal static string Svg(NestedSheet sheet, bool mirrored, Ink ink)
    {
        string Mm(double mm) => Math.Round(mm, 3).ToString("0.###", CultureInfo.InvariantCulture);
        double X(double x) => mirrored ? sheet.WidthMm - x : x;
        var svg = new StringBuilder();
        svg.Append(
            CultureInfo.InvariantCulture,
            $"<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{Mm(sheet.WidthMm)}mm\" height=\"{Mm(sheet.HeightMm)}mm\" viewBox=\"0 0 {Mm(sheet.WidthMm)} {Mm(sheet.HeightMm)}\">\n<title>{ink.Name}</title>\n<desc>{(mirrored ? "mirrored: cut from the back, carrier down" : "not mirrored: right-reading")}</desc>\n"
        );
        for (var i = 0; i < sheet.Blocks.Length; i++)
        {
            var (block, x, y) = sheet.Blocks[i];
            svg.Append(
                CultureInfo.InvariantCulture,
                $"<g id=\"piece-{i + 1}\" data-line=\"{block.Entry.Line}\"><path fill=\"#000000\" fill-rule=\"evenodd\" d=\""
            );
            foreach (var contour in block.Contours)
            {
                for (var p = 0; p < contour.Length; p++)
                    svg.Append(
                            p == 0 ? 'M'
                            : p == 1 ? 'L'
                            : ' '
                        )
                        .Append(Mm(X(x + contour[p].X)))
                        .Append(' ')
                        .Append(Mm(y + contour[p].Y));
                svg.Append('Z');
            }
            svg.Append(
                "\"/><path class=\"label\" fill=\"none\" stroke=\"#808080\" stroke-width=\"0.2\" stroke-linecap=\"round\" d=\""
            );
            var left = mirrored ? X(x + block.WidthMm) : x;
            const double Unit = 2.5 / StrokeFont.CapHeight;
            foreach (var letter in StrokeFont.Plain(RosterSheet.CaptionOf(block.Entry)))
            {
                foreach (var stroke in StrokeFont.Of(letter))
                    for (var p = 0; p < stroke.Length; p++)
                        svg.Append(p == 0 ? 'M' : 'L')
                            .Append(Mm(left + stroke[p].X * Unit))
                            .Append(' ')
                            .Append(Mm(y + block.HeightMm + 1.5 + stroke[p].Y * Unit));
                left += StrokeFont.Advance * Unit;
            }
            svg.Append("\"/></g>\n");
        }
        return svg.Append("</svg>\n").ToString();
    }

    private static ProductionChannels Films(string name, NestedSheet sheet, bool mirrored, Proof proof, Ink ink)
    {
        var contours = sheet.Blocks.SelectMany(b =>
            b.Block.Contours.Select(c =>
                c.Select(p => (mirrored ? sheet.WidthMm - b.X - p.X : b.X + p.X, b.Y + p.Y)).ToImmutableArray()
            )
        );
        var shape = RosterPlates.Draw(contours, sheet.WidthMm, sheet.HeightMm);
        var plates = RosterPlates.Plates(shape, proof.Request.Method, ink);
        return new(
            name,
            [.. plates.Select((plate, i) => new InkChannel($"{i + 1:00}-{VinylFiles.Slug(plate.Name)}", plate.Shape!))],
            RosterPlates.PixelsPerMm
        );
    }

    private static string List(RosterProof roster)
    {
        var csv = new StringBuilder("line,name,number,size,colour,name height mm,width mm,height mm\r\n");
        foreach (var piece in roster.Pieces)
        {
            var e = piece.Entry;
            csv.Append(
                CultureInfo.InvariantCulture,
                $"{e.Line},{Field(e.Name)},{e.Number},{Field(e.Size)},{Field(e.Colour)},{piece.NameMm:0.0},{piece.WidthMm:0.0},{piece.HeightMm:0.0}\r\n"
            );
        }
        return csv.ToString();
    }

    private static string Characters(RosterProof roster)
    {
        var csv = new StringBuilder("used in,character,pieces\r\n");
        void Count(string what, IEnumerable<char> characters)
        {
            foreach (var same in characters.GroupBy(c => c).OrderBy(g => g.Key))
                csv.Append(CultureInfo.InvariantCulture, $"{what},{same.Key},{same.Count()}\r\n");
        }
        Count("numbers", roster.Pieces.SelectMany(p => p.Entry.Number));
        Count("names", roster.Pieces.SelectMany(p => p.Entry.Name).Where(c => c != ' '));
        return csv.ToString();
    }

    private static string Field(string text) =>
        text.AsSpan().IndexOfAny(",\"\r\n") < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
