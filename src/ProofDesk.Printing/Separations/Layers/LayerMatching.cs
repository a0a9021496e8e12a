using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>
/// Which ink each layer prints in: one whose name or identifier the layer bears, one that its words describe, or the one that comes
/// nearest to the colour the file shows it in. A list of inks given for the job is the only shelf there is.
/// </summary>
/// <param name="byColour">Ink for a colour, as spot art gets it: from the shelf, or mixed to match.</param>
/// <param name="printed">Lab of a solid where the job prints it.</param>
internal sealed class LayerMatching(
    PrintMethod method,
    SpotSettings settings,
    Ink baseWhite,
    Func<Lab, string, Ink> byColour,
    Func<Ink, Lab> printed
)
{
    /// <summary>A name that says one thing and a colour that says another: further apart than any two reds.</summary>
    private const double Disagree = 25;

    /// <summary>An ink this far (CIEDE2000) from the layer's colour is another colour.</summary>
    private const double Far = 6;

    /// <summary>Words in the names of inks that are no colour themselves: "light" alone says nothing.</summary>
    private static readonly string[] Shades =
    [
        "light",
        "dark",
        "bright",
        "warm",
        "cool",
        "mid",
        "pale",
        "deep",
        "high",
        "low",
        "process",
        "opaque",
        "thin",
        "to",
        "match",
        "base",
    ];

    private ImmutableArray<Ink> Shelf { get; } =
        settings.Inks.Inks.IsEmpty ? InkLibrary.OfKind(method.ColourInk) : settings.Inks.Inks;

    /// <summary>The match of a layer; null when nothing says which ink it is.</summary>
    public LayerMatch? Of(ArtLayer layer)
    {
        var name = LayerNames.Clean(layer.Name);
        var role = LayerNames.Role(layer.Name);
        var coloured = layer with { Colour = layer.Colour ?? LayerNames.Hex(layer.Name) };
        if (ByName(layer.Name, name) is { } own && (role == LayerRole.Colour || own.Role == InkRole.White))
            return role == LayerRole.Colour
                ? Checked(coloured, name, own, "by its name")
                : new(layer, name, role, own, "by its name", true);
        switch (role)
        {
            case LayerRole.BlockingBase:
                return new(layer, name, role, InkLibrary.BlockingBase, "by its name", true);
            case LayerRole.DischargeBase when method.Rules.DischargeBase is { } discharge:
                return new(layer, name, role, discharge, "by its name", true);
            case LayerRole.Base or LayerRole.DischargeBase:
                return new(layer, name, role, baseWhite, "by its name", true);
            case LayerRole.White or LayerRole.HighlightWhite when White() is { } white:
                return new(layer, name, role, white, "by its name", true);
        }
        return ByWords(coloured, name) ?? ByColour(coloured, name);
    }

    private Ink? White() =>
        Shelf.FirstOrDefault(i => i.Role == InkRole.White)
        ?? (
            baseWhite.Role == InkRole.White ? baseWhite
            : settings.Inks.Inks.IsEmpty ? null
            : InkLibrary.OfKind(method.ColourInk).FirstOrDefault(i => i.Role == InkRole.White)
        );

    private Ink? ByName(string raw, string name) =>
        Shelf.FirstOrDefault(ink => Is(ink.Id, raw) || Is(ink.Id, name) || Is(ink.Name, raw) || Is(ink.Name, name));

    private static bool Is(string one, string other) =>
        string.Equals(one.Replace('-', ' '), other.Replace('-', ' '), StringComparison.OrdinalIgnoreCase);

    private LayerMatch? ByWords(ArtLayer layer, string name)
    {
        var told = LayerNames
            .Words(layer.Name)
            .Where(w => LayerNames.IsColour(w) || Shelf.Any(i => WordsOf(i).Contains(w)))
            .ToArray();
        var found = Described(told);
        if (found.Length == 0)
            return null;
        var ink = Colour(layer) is { } lab ? found.MinBy(i => Ciede2000.Difference(printed(i), lab))! : found[0];
        var word = string.Join(' ', told.Where(w => WordsOf(ink).Contains(w)));
        var others =
            found.Length == 1
                ? ""
                : $", of {string.Join(", ", found.Select(i => i.Name))} {(layer.Colour is null ? "the first" : "the nearest to its colour")}";
        return Checked(layer, name, ink, $"by the word \"{word}\"{others}");
    }

    /// <summary>
    /// Inks that the words describe. "Navy blue" is Navy: an ink all of whose words stand in the name comes before one of which
    /// only a part does, and the word that stands first says most. "Golden yellow" is a yellow: the last word is the colour.
    /// </summary>
    private Ink[] Described(string[] told)
    {
        var says = told.Where(w => LayerNames.IsColour(w) || !Shades.Contains(w)).ToArray();
        if (says.Length == 0)
            return [];
        var shelf = Shelf.Where(ink => Special(ink).All(told.Contains) && WordsOf(ink).Any()).ToArray();
        var whole = shelf.Where(ink => WordsOf(ink).All(told.Contains)).ToArray();
        var most = whole.Select(ink => WordsOf(ink).Count()).DefaultIfEmpty(0).Max();
        whole = [.. whole.Where(ink => WordsOf(ink).Count() == most)];
        int First(Ink ink) => WordsOf(ink).Min(w => Array.IndexOf(told, w));
        if (whole.Length > 0)
            return [.. whole.Where(ink => First(ink) == whole.Min(First))];
        var colours = says.Where(LayerNames.IsColour).DefaultIfEmpty(says[^1]).ToArray();
        Ink[] all = [.. shelf.Where(ink => colours.All(WordsOf(ink).Contains))];
        return all.Length > 0 ? all : [.. shelf.Where(ink => WordsOf(ink).Contains(colours[^1]))];
    }

    /// <summary>What a name says, and what the colour says if that is another thing.</summary>
    private LayerMatch Checked(ArtLayer layer, string name, Ink ink, string how)
    {
        var off = Colour(layer) is { } shown ? Ciede2000.Difference(printed(ink), shown) : 0;
        return off <= Disagree
            ? new(layer, name, LayerRole.Colour, ink, how, true)
            : new(
                layer,
                name,
                LayerRole.Colour,
                ink,
                Text($"{how}; but the file shows {layer.Colour}, {off:0} dE00 away"),
                false
            );
    }

    private LayerMatch? ByColour(ArtLayer layer, string name)
    {
        if (Colour(layer) is not { } wanted)
            return null;
        var ink = byColour(wanted, layer.Colour!);
        var off = Ciede2000.Difference(printed(ink), wanted);
        var how = Text($"by its colour {layer.Colour}, {off:0.0} dE00 away");
        if (ink.Id.StartsWith(AssumedInk.Prefix, StringComparison.Ordinal))
        {
            var near = Shelf.MinBy(i => Ciede2000.Difference(printed(i), wanted))!;
            how += Text(
                $"; the nearest ink on the shelf, {near.Name}, is {Ciede2000.Difference(printed(near), wanted):0.0} away"
            );
        }
        return new(layer, name, LayerRole.Colour, ink, how, off <= Far);
    }

    private static Lab? Colour(ArtLayer layer) =>
        layer.Colour is { } hex && ClothShows.Hex(hex) is { } linear ? Srgb.ToLab(linear) : null;

    /// <summary>Words that every ink of a kind bears say nothing: "Metallic gold" is gold.</summary>
    private static IEnumerable<string> WordsOf(Ink ink) => LayerNames.Words(ink.Name).Where(w => w != "metallic");

    /// <summary>Inks for special use are never meant by their colour alone.</summary>
    private static IEnumerable<string> Special(Ink ink) =>
        LayerNames.Words(ink.Name).Where(w => w is "process" or "opaque" or "thin");
}
