using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;

namespace ProofDesk.HostileText;

/// <summary>
/// Reads a page as a browser does and looks for what no page of ours has: an element, an attribute, a script or an address that
/// came out of somebody's text. All hostile strings carry "pdx".
/// </summary>
public static class ForeignMarkup
{
    private static readonly HtmlParser Parser = new(new HtmlParserOptions { IsScripting = true });

    private static readonly string[] NeverOurs =
    [
        "iframe",
        "frame",
        "frameset",
        "object",
        "embed",
        "applet",
        "base",
        "math",
        "foreignobject",
        "animate",
        "set",
        "marquee",
        "plaintext",
        "xmp",
        "noembed",
        "mglyph",
        "annotation-xml",
    ];

    private static readonly string[] Addresses =
    [
        "href",
        "src",
        "action",
        "formaction",
        "xlink:href",
        "poster",
        "data",
        "srcset",
        "background",
    ];

    public static IHtmlDocument Parse(string html) => Parser.ParseDocument(html);

    public static IEnumerable<string> In(IHtmlDocument page, string nonce)
    {
        foreach (var element in page.All)
        {
            var name = element.LocalName;
            if (
                name.Contains("pdx", StringComparison.OrdinalIgnoreCase)
                || NeverOurs.Contains(name.ToLowerInvariant())
                || name.Any(c => !char.IsAsciiLetterOrDigit(c) && c != '-')
            )
                yield return $"element {name}";
            if (name is "script" or "style" && element.GetAttribute("nonce") != nonce)
                yield return $"{name} without the nonce of the answer: {Short(element.OuterHtml)}";
            if (
                name is "script"
                && !element.HasAttribute("src")
                && element.TextContent.Contains("pdx", StringComparison.Ordinal)
            )
                yield return $"script with foreign text: {Short(element.OuterHtml)}";
            if (name is "meta" && element.HasAttribute("http-equiv"))
                yield return $"meta {Short(element.OuterHtml)}";
            foreach (var attribute in element.Attributes)
            {
                var key = attribute.Name;
                if (
                    key.Contains("pdx", StringComparison.OrdinalIgnoreCase)
                    || key.StartsWith("on", StringComparison.OrdinalIgnoreCase)
                    || key is "style" or "srcdoc"
                )
                    yield return $"attribute {key} of {name}: {Short(element.OuterHtml)}";
                if (Addresses.Contains(key) && !IsOurs(attribute.Value))
                    yield return $"{key} of {name} leads to {Short(attribute.Value)}";
            }
        }
        foreach (
            var comment in page.Descendants<IComment>().Where(c => c.Data.Contains("pdx", StringComparison.Ordinal))
        )
            yield return $"comment {Short(comment.Data)}";
    }

    // Within the site, an anchor, or a letter to somebody; nothing with another scheme or host.
    private static bool IsOurs(string address) =>
        address is ""
        || address.StartsWith('#')
        || address.StartsWith('?')
        || (
            address.StartsWith('/')
            && !address.StartsWith("//", StringComparison.Ordinal)
            && !address.StartsWith("/\\", StringComparison.Ordinal)
        )
        || address.StartsWith("mailto:", StringComparison.Ordinal)
        || address.StartsWith("tel:", StringComparison.Ordinal);

    private static string Short(string text) => text.Length > 160 ? text[..160] + "..." : text;
}
