using System.Collections.Immutable;
using System.Text;

namespace ProofDesk.Printing.Artworks;

/// <summary>What a layer is for, as far as its name says.</summary>
public enum LayerRole
{
    /// <summary>A colour of the art.</summary>
    Colour,

    /// <summary>White that is seen.</summary>
    White,

    /// <summary>White under the colours, drawn by the designer.</summary>
    Base,

    /// <summary>Takes the dye out of the cloth under the colours.</summary>
    DischargeBase,

    /// <summary>Keeps dye of the cloth from the inks above.</summary>
    BlockingBase,

    /// <summary>A second white over the first.</summary>
    HighlightWhite,
}

/// <summary>
/// Reads the names that designers give their layers: "01_Red", "red 2", "UB", "base white", "Reds copy". English words
/// only; a name in another language is a name that says nothing, and colour decides.
/// </summary>
public static class LayerNames
{
    /// <summary>Words beside the colour that do not change what is meant.</summary>
    private static readonly ImmutableHashSet<string> Fillers =
    [
        "ink",
        "inks",
        "plate",
        "plates",
        "film",
        "films",
        "spot",
        "screen",
        "separation",
        "sep",
        "layer",
        "copy",
        "colour",
        "color",
        "pos",
        "positive",
        "adhesive",
        "glue",
        "foil",
        "vinyl",
        "sheet",
        "solid",
        "tone",
        "halftone",
    ];

    private static readonly ImmutableDictionary<string, string> Spellings = new Dictionary<string, string>
    {
        ["gray"] = "grey",
        ["wht"] = "white",
        ["wh"] = "white",
        ["blk"] = "black",
        ["bk"] = "black",
        ["rd"] = "red",
        ["yel"] = "yellow",
        ["blu"] = "blue",
        ["grn"] = "green",
        ["org"] = "orange",
        ["burgundy"] = "maroon",
        ["wine"] = "maroon",
        ["purple"] = "violet",
        ["magenta"] = "fuchsia",
        ["fuschia"] = "fuchsia",
        ["fuchia"] = "fuchsia",
        ["cream"] = "natural",
        ["ivory"] = "natural",
        ["golden"] = "gold",
        ["turquoise"] = "teal",
        ["aqua"] = "teal",
        ["hilite"] = "highlight",
        ["hilight"] = "highlight",
        ["hl"] = "highlight",
        ["ub"] = "underbase",
        ["underprint"] = "underbase",
        ["underlay"] = "underbase",
        ["underlayer"] = "underbase",
        ["undercoat"] = "underbase",
        ["blocker"] = "blocking",
    }.ToImmutableDictionary();

    /// <summary>Words for colours, with a colour to draw a layer in that has none of its own (our choice, near the default inks).</summary>
    private static readonly ImmutableDictionary<string, string> Colours = new Dictionary<string, string>
    {
        ["white"] = "#ffffff",
        ["black"] = "#1c1c1c",
        ["grey"] = "#8c8c8c",
        ["charcoal"] = "#3c3c3e",
        ["silver"] = "#a8a9ad",
        ["red"] = "#c42a2c",
        ["maroon"] = "#6c1f2c",
        ["orange"] = "#e8731c",
        ["yellow"] = "#f2cf1d",
        ["gold"] = "#cda031",
        ["copper"] = "#a9673c",
        ["bronze"] = "#86673a",
        ["brown"] = "#66432c",
        ["tan"] = "#bf9c74",
        ["natural"] = "#efe6cf",
        ["green"] = "#1d8748",
        ["lime"] = "#93c83d",
        ["olive"] = "#6c6b31",
        ["forest"] = "#1f4d33",
        ["teal"] = "#1c8a8c",
        ["cyan"] = "#1a9ad6",
        ["blue"] = "#2450a4",
        ["royal"] = "#2450a4",
        ["navy"] = "#1d2a4d",
        ["sky"] = "#7db4dc",
        ["violet"] = "#663a94",
        ["lilac"] = "#ab8fc8",
        ["fuchsia"] = "#c8237c",
        ["pink"] = "#ea8bab",
        ["rose"] = "#d98a8a",
        ["peach"] = "#f3b48b",
    }.ToImmutableDictionary();

    /// <summary>The name as a plate bears it: without the number that orders it, "01_Red" becomes "Red".</summary>
    public static string Clean(string name)
    {
        var text = name.Replace('_', ' ').Trim();
        var digits = text.TakeWhile(char.IsAsciiDigit).Count();
        var rest = text[digits..].TrimStart(' ', '.', '-', ')', ':');
        if (rest.Length > 0 && digits is > 0 and <= 3 && rest.Any(char.IsLetter))
            text = rest;
        return char.ToUpperInvariant(text[0]) + text[1..];
    }

    /// <summary>
    /// The words of a name, lower case, in one spelling, without numbers, plurals and fillers: "Royal-Blues 2" becomes
    /// royal, blue.
    /// </summary>
    public static ImmutableArray<string> Words(string name) =>
        [
            .. Split(name)
                .Select(Singular)
                .Select(word => Spellings.GetValueOrDefault(word, word))
                .Where(word => !Fillers.Contains(word)),
        ];

    public static bool IsColour(string word) => Colours.ContainsKey(word);

    /// <summary>"#rrggbb" somewhere in the name, lower case; null when there is none.</summary>
    public static string? Hex(string name)
    {
        var at = name.IndexOf('#', StringComparison.Ordinal);
        return at >= 0 && name.Length >= at + 7 && name.AsSpan(at + 1, 6).IndexOfAnyExcept(HexDigits) < 0
            ? name.Substring(at, 7).ToLowerInvariant()
            : null;
    }

    public static LayerRole Role(string name)
    {
        var words = Words(name);
        bool Has(string word) => words.Contains(word);
        return Has("blocking") ? LayerRole.BlockingBase
            : Has("discharge") && words.All(w => w is "discharge" or "base" or "underbase") ? LayerRole.DischargeBase
            : Has("highlight") && words.All(w => w is "highlight" or "white" or "top") ? LayerRole.HighlightWhite
            : Has("underbase") || Has("base") && words.All(w => w is "base" or "white" or "under" or "first")
                ? LayerRole.Base
            : Has("white") && words.All(w => w is "white" or "bright" or "opaque") ? LayerRole.White
            : LayerRole.Colour;
    }

    /// <summary>Whether whoever named this thought of an ink: a purpose, a word for a colour, a colour code, or "ink ..." or "plate ...".</summary>
    public static bool SaysInk(string name) =>
        Role(name) != LayerRole.Colour
        || Hex(name) is not null
        || Words(name).Any(IsColour)
        || Split(name).FirstOrDefault() is "ink" or "plate" or "spot";

    /// <summary>The colour to draw a layer in that has none of its own, so that the picture can be looked at.</summary>
    public static string DrawnIn(string name) =>
        Hex(name)
        ?? Role(name) switch
        {
            LayerRole.Base or LayerRole.White or LayerRole.HighlightWhite => "#ffffff",
            LayerRole.DischargeBase => "#e8dcc0",
            LayerRole.BlockingBase => "#b4b4b4",
            // "Navy blue" is navy: the word that says more stands first in English.
            _ => Words(name).Where(IsColour).Select(word => Colours[word]).FirstOrDefault() ?? "#808080",
        };

    private static System.Buffers.SearchValues<char> HexDigits { get; } =
        System.Buffers.SearchValues.Create("0123456789abcdefABCDEF");

    /// <summary>Runs of letters, cut also where a capital follows a small letter; lower case.</summary>
    private static IEnumerable<string> Split(string name)
    {
        var word = new StringBuilder();
        for (var i = 0; i <= name.Length; i++)
        {
            var letter = i < name.Length && char.IsLetter(name[i]);
            var ends = !letter || i > 0 && char.IsUpper(name[i]) && char.IsLower(name[i - 1]);
            if (ends && word.Length > 0)
            {
                yield return word.ToString();
                word.Clear();
            }
            if (letter)
                word.Append(char.ToLowerInvariant(name[i]));
        }
    }

    /// <summary>"reds" is red; "brass" keeps its s.</summary>
    private static string Singular(string word) =>
        word.Length > 3 && word.EndsWith('s') && !word.EndsWith("ss", StringComparison.Ordinal) ? word[..^1] : word;
}
