using System.Collections.Immutable;
using System.Text;
using System.Xml.Linq;

namespace ProofDesk.Adapters.Codecs;

/// <summary>The lines of text in an SVG, in the order of the file; parts that are placed anew start a line.</summary>
internal static class SvgWords
{
    /// <param name="document">As <see cref="SvgText.Sanitise"/> left it.</param>
    public static ImmutableArray<string> Of(byte[] document, int most)
    {
        var drawn = XDocument.Load(new MemoryStream(document));
        var lines = ImmutableArray.CreateBuilder<string>();
        foreach (var text in drawn.Descendants().Where(e => e.Name.LocalName == "text"))
        {
            if (text.AncestorsAndSelf().Any(IsHidden))
                continue;
            var line = new StringBuilder();
            Collect(text, line, lines);
            End(line, lines);
        }
        return [.. lines.Take(most)];
    }

    private static void Collect(XElement element, StringBuilder line, ImmutableArray<string>.Builder lines)
    {
        foreach (var node in element.Nodes())
            if (node is XText text)
                line.Append(text.Value);
            else if (node is XElement { Name.LocalName: "tspan" or "textPath" or "a" } part && !IsHidden(part))
            {
                if (IsPlaced(part))
                    End(line, lines);
                Collect(part, line, lines);
            }
    }

    private static void End(StringBuilder line, ImmutableArray<string>.Builder lines)
    {
        var plain = FoundText.Plain(line.ToString());
        if (plain.Length > 0)
            lines.Add(plain);
        line.Clear();
    }

    /// <summary>A list of x places every letter of one word; a single y, or a step down, is another line.</summary>
    private static bool IsPlaced(XElement part) =>
        part.Attribute("y") is not null
        || part.Attribute("dy") is { Value: not ("0" or "0em" or "0px") }
        || part.Name.LocalName == "textPath";

    private static bool IsHidden(XElement element) =>
        element.Attribute("display")?.Value.Trim() == "none"
        || element.Attribute("visibility")?.Value.Trim() == "hidden"
        || element
            .Attribute("style")
            ?.Value.Replace(" ", "", StringComparison.Ordinal)
            .Split(';')
            .Any(rule => rule is "display:none" or "visibility:hidden") == true;
}
