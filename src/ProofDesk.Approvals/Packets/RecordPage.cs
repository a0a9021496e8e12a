using System.Globalization;
using System.Text;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Log;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Packets;

/// <summary>
/// record.html of a packet: the record for people, written from the bound data and nothing else, without scripts and
/// without anything from a network. Part of the layout, so its words are frozen.
/// </summary>
internal static class RecordPage
{
    private const string Style =
        "body{font:16px/1.5 system-ui,sans-serif;color:#1c1c1a;background:#fff;max-width:60rem;margin:2rem auto;padding:0 1rem}"
        + "h1{font-size:1.6rem;line-height:1.2}h2{font-size:1.1rem;margin-top:2.2rem;border-bottom:1px solid #c9c6bd;padding-bottom:.2rem}"
        + "table{border-collapse:collapse;width:100%;font-size:.92rem}th,td{text-align:left;vertical-align:top;padding:.3rem .8rem .3rem 0;border-bottom:1px solid #e6e3db;min-width:4.5rem}"
        + "th{font-weight:600}code{font:13px/1.4 ui-monospace,monospace;overflow-wrap:anywhere}img{max-width:100%;max-height:32rem;border:1px solid #e6e3db}"
        + "figure{margin:1rem 0}figcaption{font-size:.85rem;color:#55534c}.said{border-left:4px solid #1c1c1a;padding-left:1rem}"
        + "pre{white-space:pre-wrap;font:inherit}.scroll{overflow-x:auto}";

    public static string Write(OpenedPacket opened)
    {
        var (m, s) = (opened.Manifest, opened.Statement);
        var page = new StringBuilder();
        page.Append("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
        page.Append(
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src 'self' file:; style-src 'unsafe-inline'\">\n"
        );
        page.Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        Line(page, $"<title>{Html($"{m.Shop}: order {m.Order}, version {m.Version}")}</title>");
        Line(page, $"<style>{Style}</style>\n</head>\n<body>");
        Line(page, $"<h1>{Html($"Order {m.Order}, version {m.Version}")}</h1>\n<p>{Html(m.Shop)}</p>");
        Said(page, opened);
        Pictures(page, m);
        Prints(page, m);
        Lines(page, m);
        Plates(page, m);
        Files(page, m);
        Shown(page, opened);
        Logged(page, opened);
        page.Append("</body>\n</html>\n");
        return page.ToString();
    }

    private static void Said(StringBuilder page, OpenedPacket opened)
    {
        var s = opened.Statement;
        Line(
            page,
            $"<h2>What was said</h2>\n<div class=\"said\">\n<p><strong>{Html(PacketWords.Said(s))}</strong></p>"
        );
        Line(page, $"<p>{Html($"{UtcText.Write(s.At)}, by the server's clock. {PacketWords.Evidence(s)}")}</p>");
        if (s.Kind == DecisionKind.Approve)
        {
            page.Append(
                "<ul>\n<li>words and spelling confirmed</li>\n<li>size and place confirmed</li>\n<li>garments and counts confirmed</li>\n<li>colours within the range shown confirmed</li>\n</ul>\n"
            );
        }

        Table(page, ["About", "What shall change"], s.Changes.Select(c => new[] { c.Thing, c.Words }));
        if (s.Comment is not null)
        {
            Line(page, $"<p>Comment: {Html(s.Comment)}</p>");
        }

        page.Append("</div>\n");
    }

    private static void Pictures(StringBuilder page, Manifest m)
    {
        page.Append("<h2>Pictures</h2>\n");
        foreach (var file in m.Files.Where(f => f.Role is FileRole.Picture or FileRole.GarmentPicture))
        {
            var path = Html(file.Path);
            Line(
                page,
                $"<figure><img src=\"data/files/{path}\" alt=\"{path}\"><figcaption>{path}, computed for {Html(m.ViewingLight)}</figcaption></figure>"
            );
        }
    }

    private static void Prints(StringBuilder page, Manifest m)
    {
        page.Append("<h2>Prints</h2>\n");
        Table(
            page,
            ["Print", "Place", "Sizes", "Method", "Width x height", "From the seam", "From the centre line", "Words"],
            m.Prints.Select(p =>
                new[]
                {
                    p.Id,
                    p.Place,
                    p.SizeGroup,
                    p.Method,
                    $"{Length(p.WidthUm)} x {Length(p.HeightUm)}",
                    Length(p.FromSeamUm),
                    Centre(p.FromCentreUm),
                    string.Join(" ", p.Words),
                }
            )
        );
    }

    private static void Lines(StringBuilder page, Manifest m)
    {
        page.Append("<h2>Garments and counts</h2>\n");
        Table(
            page,
            ["Garment", "Colour", "Counts", "Together"],
            m.Lines.Select(l =>
                new[]
                {
                    l.Garment,
                    l.Colour,
                    string.Join(", ", l.Counts.Select(c => $"{c.Size} {Whole(c.Pieces)}")),
                    Whole(l.Counts.Sum(c => (long)c.Pieces)),
                }
            )
        );
    }

    private static void Plates(StringBuilder page, Manifest m)
    {
        Line(page, $"<h2>Plates</h2>\n<p>Hand-over: {Html(ManifestJson.Word(m.HandOver))}</p>");
        Table(
            page,
            ["Print", "Screen", "Purpose", "Mesh", "Ruling", "Angle", "Coverage", "Ink on each ground"],
            m.Plates.Select(p =>
                new[]
                {
                    p.Print,
                    Whole(p.Screen),
                    p.Purpose,
                    p.Mesh,
                    p.Lpi == 0 ? "no halftone" : $"{Whole(p.Lpi)} lpi",
                    p.Lpi == 0 ? "" : $"{Decimal(p.AngleMillidegrees, 3)} degrees",
                    $"{Decimal(p.CoveragePpm, 4)} %",
                    string.Join(
                        ", ",
                        p.OnGrounds.Select(g =>
                            $"{g.Ground}: {g.Ink} (L* {Decimal(g.Lab.L, 2)}, a* {Decimal(g.Lab.A, 2)}, b* {Decimal(g.Lab.B, 2)})"
                        )
                    ),
                }
            )
        );
    }

    private static void Files(StringBuilder page, Manifest m)
    {
        page.Append("<h2>Files</h2>\n");
        Table(
            page,
            ["File", "Role", "Bytes", "SHA-256"],
            m.Files.Select(f => new[] { f.Path, ManifestJson.Word(f.Role), Whole(f.Bytes), f.Sha256.Hex })
        );
    }

    private static void Shown(StringBuilder page, OpenedPacket opened) =>
        Line(
            page,
            $"<h2>Sentences that were shown</h2>\n<pre lang=\"{Html(opened.Statement.Locale)}\">{Html(opened.Packet.StatementText)}</pre>"
        );

    private static void Logged(StringBuilder page, OpenedPacket opened)
    {
        var proof = TlogProof.Parse(opened.Packet.DecisionProof);
        page.Append("<h2>In the log</h2>\n");
        Table(
            page,
            ["What", "Value"],
            [
                ["Manifest", opened.ManifestDigest.ToString()],
                ["Statement", opened.StatementDigest.ToString()],
                ["Place of the manifest", Whole(TlogProof.Parse(opened.Packet.FreezeProof).Index)],
                ["Place of the decision", Whole(proof.Index)],
                ["Checkpoint", proof.CheckpointNote],
                ["Keys", OpenedPacket.KeysText(opened.Packet.Keys)],
            ]
        );
        page.Append(
            "<p>This page is a copy for people. README.txt says how to check the record. Whether this kind of approval is enough for your purpose is a question of local rules; ask a licensed adviser.</p>\n"
        );
    }

    private static void Table(StringBuilder page, string[] head, IEnumerable<string[]> rows)
    {
        var list = rows.ToList();
        if (list.Count == 0)
        {
            return;
        }

        page.Append("<div class=\"scroll\"><table>\n<tr>");
        page.AppendJoin("", head.Select(h => $"<th scope=\"col\">{Html(h)}</th>")).Append("</tr>\n");
        foreach (var row in list)
        {
            page.Append("<tr>").AppendJoin("", row.Select(c => $"<td>{Cell(c)}</td>")).Append("</tr>\n");
        }

        page.Append("</table></div>\n");
    }

    private static string Cell(string text) =>
        text.Length > 50 && !text.Contains(' ', StringComparison.Ordinal)
        || text.Contains('\n', StringComparison.Ordinal)
            ? $"<code>{Html(text).Replace("\n", "<br>", StringComparison.Ordinal)}</code>"
            : Html(text);

    private static void Line(StringBuilder page, string line) => page.Append(line).Append('\n');

    private static string Whole(long value) => value.ToString(CultureInfo.InvariantCulture);

    /// <summary>Micrometres as millimetres and inches.</summary>
    private static string Length(int um) =>
        string.Create(CultureInfo.InvariantCulture, $"{Decimal(um, 3)} mm ({um / 25400m:0.00} in)");

    private static string Centre(int um) =>
        um switch
        {
            0 => "centred",
            > 0 => $"{Length(um)} to the wearer's left",
            _ => $"{Length(-um)} to the wearer's right",
        };

    /// <summary>A whole number of small units with its decimal point, without trailing zeroes.</summary>
    private static string Decimal(int value, int places)
    {
        var scaled = (decimal)value;
        for (var i = 0; i < places; i++)
        {
            scaled /= 10;
        }

        return scaled.ToString("0.####", CultureInfo.InvariantCulture);
    }

    private static string Html(string text) =>
        text.Replace("&", "&amp;", StringComparison.Ordinal)
            .Replace("<", "&lt;", StringComparison.Ordinal)
            .Replace(">", "&gt;", StringComparison.Ordinal)
            .Replace("\"", "&quot;", StringComparison.Ordinal)
            .Replace("'", "&#39;", StringComparison.Ordinal);
}
