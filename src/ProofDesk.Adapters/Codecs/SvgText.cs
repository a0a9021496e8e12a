using System.Text;
using System.Xml;
using System.Xml.Linq;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs;

/// <summary>
/// Makes a stranger's SVG harmless before the renderer sees it: no document type, no scripts, no embedded pages, no
/// reference that leaves the document. What was taken out is said in the findings.
/// </summary>
internal static class SvgText
{
    private static readonly string[] NeverDrawn = ["script", "foreignObject", "iframe", "audio", "video", "handler"];

    public static string Decode(ReadOnlySpan<byte> file) =>
        file.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) ? Encoding.Unicode.GetString(file)
        : file.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]) ? Encoding.BigEndianUnicode.GetString(file)
        : Encoding.UTF8.GetString(file);

    /// <summary>The document without what must not run or load, and the findings.</summary>
    /// <exception cref="UnreadableArt">Not well-formed, or it declares entities.</exception>
    public static (byte[] Document, List<Finding> Findings) Sanitise(byte[] file)
    {
        if (Decode(file).Contains("<!ENTITY", StringComparison.OrdinalIgnoreCase))
            throw new UnreadableArt(
                "svg-entities",
                "the svg declares entities of its own, which can unfold without end",
                "save it as plain svg (in the drawing program: without editing data) and send that"
            );
        var document = Parse(file);
        TakeEditorsData(document);
        var removed = Remove(document);
        var findings = new List<Finding>();
        if (removed > 0)
            findings.Add(
                new(
                    "svg-parts-not-drawn",
                    FindingWeight.Warning,
                    $"{removed} {(removed == 1 ? "part" : "parts")} of the svg {(removed == 1 ? "was" : "were")} not drawn: scripts, embedded pages or references to other files",
                    "embed linked pictures in the file, or confirm that the drawing is complete without them",
                    removed,
                    0,
                    "parts"
                )
            );
        var texts = document.Descendants().Count(e => e.Name.LocalName == "text");
        if (texts > 0)
            findings.Add(
                new(
                    "text-not-outlined",
                    FindingWeight.Warning,
                    $"{texts} texts in the svg are drawn with the fonts of this machine, which may not be the designer's",
                    "convert text to outlines and send the file again, or confirm the lettering in the proof",
                    texts,
                    0,
                    "texts"
                )
            );
        using var plain = new MemoryStream();
        using (var writer = XmlWriter.Create(plain, new() { Encoding = new UTF8Encoding(false) }))
            document.Save(writer);
        return (plain.ToArray(), findings);
    }

    private static XDocument Parse(byte[] file)
    {
        var settings = new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Ignore,
            XmlResolver = null,
            MaxCharactersFromEntities = 1024,
            MaxCharactersInDocument = 256L << 20,
        };
        try
        {
            using var reader = XmlReader.Create(new MemoryStream(file), settings);
            var document = XDocument.Load(reader);
            document.DocumentType?.Remove();
            return document;
        }
        catch (XmlException e)
        {
            throw new UnreadableArt(
                "svg-not-well-formed",
                $"the svg cannot be read at line {e.LineNumber}, column {e.LinePosition}",
                "open it in the drawing program, save it as plain svg and send that"
            );
        }
    }

    /// <summary>
    /// What a drawing program keeps for itself and no picture misses: metadata, and the foreign object that only the
    /// program named in requiredExtensions would open, beside the drawing for everybody else.
    /// </summary>
    private static void TakeEditorsData(XDocument document) =>
        document
            .Descendants()
            .Where(e =>
                e.Name.LocalName == "metadata"
                || e.Name.LocalName == "foreignObject"
                    && e.Attribute("requiredExtensions") is not null
                    && e.Parent?.Name.LocalName == "switch"
            )
            .ToList()
            .ForEach(e => e.Remove());

    private static int Remove(XDocument document)
    {
        var gone = document.Descendants().Where(e => NeverDrawn.Contains(e.Name.LocalName)).ToList();
        gone.ForEach(e => e.Remove());
        var count = gone.Count;
        document.Nodes().OfType<XProcessingInstruction>().Remove();
        foreach (var element in document.Descendants())
        {
            foreach (var attribute in element.Attributes().ToList())
            {
                var name = attribute.Name.LocalName;
                var leaves =
                    name == "href"
                        ? element.Name.LocalName != "a" && !StaysInside(attribute.Value)
                        : name.StartsWith("on", StringComparison.OrdinalIgnoreCase) || LeavesByCss(attribute.Value);
                if (!leaves)
                    continue;
                attribute.Remove();
                count++;
            }
            if (element.Name.LocalName == "style" && LeavesByCss(element.Value))
            {
                element.Value = "";
                count++;
            }
        }
        return count;
    }

    private static bool StaysInside(string reference) =>
        reference.TrimStart().StartsWith('#')
        || reference.TrimStart().StartsWith("data:image/png", StringComparison.OrdinalIgnoreCase)
        || reference.TrimStart().StartsWith("data:image/jpeg", StringComparison.OrdinalIgnoreCase)
        || reference.TrimStart().StartsWith("data:image/jpg", StringComparison.OrdinalIgnoreCase);

    private static bool LeavesByCss(string css)
    {
        if (css.Contains("@import", StringComparison.OrdinalIgnoreCase))
            return true;
        for (var at = 0; (at = css.IndexOf("url(", at, StringComparison.OrdinalIgnoreCase)) >= 0; at += 4)
            if (!css.AsSpan(at + 4).TrimStart(" \t\r\n'\"").StartsWith("#"))
                return true;
        return false;
    }
}
