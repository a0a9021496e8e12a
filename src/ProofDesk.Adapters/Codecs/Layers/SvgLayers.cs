using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml;
using System.Xml.Linq;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs.Layers;

/// <summary>One layer of an SVG: its name, and the document with all other layers hidden.</summary>
internal sealed record SvgLayer(string Name, byte[] Document);

/// <summary>
/// Finds out whether an SVG keeps inks apart. It does when everything that is painted stands in groups side by side, two at
/// least, and every one of them is named for an ink or a purpose ("Red", "02 navy", "Base", "ink Harbour"). Anything else is a
/// picture, read flat as ever: most drawings have groups, few mean plates. Whether each group paints one colour is for
/// the drawing to show.
/// </summary>
internal static partial class SvgLayers
{
    private static readonly XNamespace Inkscape = "http://www.inkscape.org/namespaces/inkscape";

    private static readonly string[] Painted =
    [
        "g",
        "a",
        "svg",
        "switch",
        "path",
        "rect",
        "circle",
        "ellipse",
        "line",
        "polyline",
        "polygon",
        "text",
        "image",
        "use",
    ];

    /// <returns>No layers when the drawing is a picture; the finding says why, if it came near to keeping inks apart.</returns>
    public static (IReadOnlyList<SvgLayer> Layers, Finding? NotTaken) Find(byte[] document, DecodeLimits limits)
    {
        var svg = XDocument.Load(new MemoryStream(document), LoadOptions.PreserveWhitespace);
        var level = Level(svg.Root!);
        var names = level.Select(e => e.Name.LocalName == "g" ? NameOf(e) : null).ToArray();
        if (names.Count(n => n is not null && LayerNames.SaysInk(n)) < 2)
            return ([], null);
        for (var i = 0; i < level.Count; i++)
            if (level[i].Name.LocalName != "g")
                return ([], NotTaken("parts of the drawing stand in no group", names));
        if (names.Any(n => n is null))
            return ([], NotTaken($"{names.Count(n => n is null)} of {names.Length} groups has no name", names));
        if (names.FirstOrDefault(n => !LayerNames.SaysInk(n!)) is { } other)
            return ([], NotTaken($"the group \"{other}\" is not named for an ink", names));
        if (names.GroupBy(n => n, StringComparer.OrdinalIgnoreCase).FirstOrDefault(g => g.Count() > 1) is { } twice)
            return ([], NotTaken($"two groups are called \"{twice.Key}\"", names));
        if (names.Length > limits.MaxLayers)
            return ([], NotTaken($"it has {names.Length} groups, {limits.MaxLayers} layers are the limit", names));
        return ([.. level.Select((group, i) => new SvgLayer(names[i]!, Alone(svg, level, group)))], null);
    }

    /// <summary>The drawing came near to layers, and a group turned out to paint several colours.</summary>
    public static Finding SeveralColours(string name, IReadOnlyList<SvgLayer> layers) =>
        NotTaken($"the group \"{name}\" paints several colours", [.. layers.Select(l => l.Name)]);

    /// <summary>What is painted side by side: at the root, or inside the one group that holds everything.</summary>
    private static List<XElement> Level(XElement root)
    {
        var parent = root;
        while (true)
        {
            List<XElement> painted =
            [
                .. parent.Elements().Where(e => Painted.Contains(e.Name.LocalName) && !IsHidden(e)),
            ];
            if (painted is not [{ Name.LocalName: "g" } only])
                return painted;
            parent = only;
        }
    }

    private static bool IsHidden(XElement element) =>
        element.Attribute("display")?.Value.Trim() == "none"
        || element.Attribute("visibility")?.Value.Trim() is "hidden" or "collapse"
        || element.Attribute("style") is { } style && HidingStyle().IsMatch(style.Value);

    private static string? NameOf(XElement group)
    {
        var label = group.Attribute(Inkscape + "label")?.Value;
        var title = group.Elements().FirstOrDefault(e => e.Name.LocalName == "title")?.Value;
        var id = group.Attribute("id")?.Value;
        return new[] { label, title, id is null ? null : Readable(id) }
            .Select(n => n?.Trim())
            .FirstOrDefault(n => n is { Length: > 0 } && !MadeName().IsMatch(n));
    }

    /// <summary>Drawing programs write characters that an id cannot hold as _x20_.</summary>
    private static string Readable(string id) =>
        EscapedCharacter()
            .Replace(
                id,
                m =>
                    (
                        (char)
                            int.Parse(
                                m.Groups["code"].Value,
                                NumberStyles.AllowHexSpecifier,
                                CultureInfo.InvariantCulture
                            )
                    )
                        is var c
                    && !char.IsControl(c)
                        ? c.ToString()
                        : ""
            );

    /// <summary>The document in which only this group of the level is drawn. Hidden groups stay, because others may refer into them.</summary>
    private static byte[] Alone(XDocument svg, List<XElement> level, XElement group)
    {
        var kept = new List<(XElement Element, string? Style)>();
        foreach (var other in level.Where(e => e != group))
        {
            var style = other.Attribute("style")?.Value;
            kept.Add((other, style));
            other.SetAttributeValue("style", $"{style?.TrimEnd().TrimEnd(';')};display:none !important".TrimStart(';'));
        }
        using var alone = new MemoryStream();
        using (var writer = XmlWriter.Create(alone, new() { Encoding = new UTF8Encoding(false) }))
            svg.Save(writer);
        foreach (var (element, style) in kept)
            element.SetAttributeValue("style", style);
        return alone.ToArray();
    }

    private static Finding NotTaken(string why, IReadOnlyList<string?> names) =>
        new(
            "layers-not-taken",
            FindingWeight.Note,
            $"the svg has groups named for inks ({string.Join(", ", names.Where(n => n is not null && LayerNames.SaysInk(n)).Take(16))}), but {why}: it is read as one picture",
            "nothing, or name every group at the top for its ink, one colour each, with nothing beside them"
        );

    [GeneratedRegex(
        @"(^|;)\s*(display\s*:\s*none|visibility\s*:\s*(hidden|collapse))",
        RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture,
        1000
    )]
    private static partial Regex HidingStyle();

    /// <summary>Names that a program gave, not a person: g12, layer1, "Layer 3", path10.</summary>
    [GeneratedRegex(
        @"^(g|group|layer|path|svg|page|artboard|rect|use|text|clip|ebene|gruppe|calque|capa|livello)[\s_-]*\d*([\s_-]+(copy|\d+))*$",
        RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture,
        1000
    )]
    private static partial Regex MadeName();

    [GeneratedRegex("_x(?<code>[0-9A-Fa-f]{2,4})_", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex EscapedCharacter();
}
