using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Parser.Parts;
using UglyToad.PdfPig.Tokenization.Scanner;
using UglyToad.PdfPig.Tokens;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>
/// What a page may draw with, from its resources and those of the forms, patterns and fonts in them: spot colours,
/// fonts, graphics states. Walked with a budget, because a stranger's resources may refer to each other without end.
/// </summary>
internal sealed class PdfUses
{
    /// <summary>The names of ISO 32000-1, 8.6.6.4 and 8.6.6.5 that are not spot colours.</summary>
    private static readonly string[] Process = ["Cyan", "Magenta", "Yellow", "Black", "All", "None"];

    private static readonly string[] FontFiles = ["FontFile", "FontFile2", "FontFile3"];

    private const int MostParts = 20_000;
    private const int Deepest = 24;

    private readonly IPdfTokenScanner _scanner;
    private readonly HashSet<IndirectReference> _seen = [];
    private int _parts;

    private PdfUses(IPdfTokenScanner scanner) => _scanner = scanner;

    /// <summary>Spot colours in the order met.</summary>
    public List<string> Spots { get; } = [];
    public bool All { get; private set; }
    public bool None { get; private set; }

    /// <summary>Graphics states that let one colour print over another.</summary>
    public int OverprintStates { get; private set; }

    /// <summary>Graphics states and pictures that let what is below shine through.</summary>
    public int TransparentStates { get; private set; }

    public SortedSet<string> EmbeddedFonts { get; } = new(StringComparer.Ordinal);
    public SortedSet<string> MissingFonts { get; } = new(StringComparer.Ordinal);

    public static PdfUses Of(DictionaryToken page, DictionaryToken? inherited, IPdfTokenScanner scanner)
    {
        var uses = new PdfUses(scanner);
        if (uses.Dictionary(page, "Resources") is { } own)
            uses.Resources(own, 0);
        else if (inherited is not null)
            uses.Resources(inherited, 0);
        return uses;
    }

    private void Resources(DictionaryToken resources, int depth)
    {
        if (depth > Deepest)
            return;
        foreach (var space in Values(Dictionary(resources, "ColorSpace")))
            Space(space, depth);
        foreach (var shading in Values(Dictionary(resources, "Shading")))
            Shading(shading, depth);
        foreach (var state in Values(Dictionary(resources, "ExtGState")))
            if (Direct<DictionaryToken>(state) is { } direct)
                State(direct);
        foreach (var font in Values(Dictionary(resources, "Font")))
            if (Direct<DictionaryToken>(font) is { } direct)
                Font(direct, depth);
        foreach (var part in Values(Dictionary(resources, "XObject")).Concat(Values(Dictionary(resources, "Pattern"))))
            Part(part, depth);
    }

    private void Part(IToken token, int depth)
    {
        if (Direct<StreamToken>(token)?.StreamDictionary is { } stream)
        {
            if (Dictionary(stream, "Resources") is { } inner)
                Resources(inner, depth + 1);
            if (stream.ContainsKey(NameToken.Create("SMask")))
                TransparentStates++;
            if (stream.TryGet(NameToken.Create("ColorSpace"), out var space))
                Space(space, depth);
        }
        else if (
            Direct<DictionaryToken>(token) is { } pattern
            && pattern.TryGet(NameToken.Create("Shading"), out var shading)
        )
            Shading(shading, depth);
    }

    private void Shading(IToken token, int depth)
    {
        var shading = Direct<StreamToken>(token)?.StreamDictionary ?? Direct<DictionaryToken>(token);
        if (shading is not null && shading.TryGet(NameToken.Create("ColorSpace"), out var space))
            Space(space, depth);
    }

    private void Space(IToken token, int depth)
    {
        if (depth > Deepest || ++_parts > MostParts)
            return;
        if (Direct<ArrayToken>(token) is not { Length: > 1 } array || Direct<NameToken>(array[0]) is not { } kind)
            return;
        switch (kind.Data)
        {
            case "Separation":
                Colorant(array[1]);
                break;
            case "DeviceN":
                foreach (var name in Direct<ArrayToken>(array[1])?.Data ?? [])
                    Colorant(name);
                break;
            case "Indexed" or "I" or "Pattern":
                Space(array[1], depth + 1);
                break;
        }
    }

    private void Colorant(IToken token)
    {
        if (Direct<NameToken>(token)?.Data is not { } name)
            return;
        All |= name == "All";
        None |= name == "None";
        if (!Process.Contains(name) && !Spots.Contains(name) && ++_parts < MostParts)
            Spots.Add(name);
    }

    private void State(DictionaryToken state)
    {
        if (Is(state, "OP") || Is(state, "op"))
            OverprintStates++;
        var mode = state.TryGet(NameToken.Create("BM"), out var blend) ? Direct<NameToken>(blend)?.Data : null;
        var mask = state.TryGet(NameToken.Create("SMask"), out var soft) && Direct<DictionaryToken>(soft) is not null;
        if (Below(state, "CA") || Below(state, "ca") || mask || mode is not (null or "Normal" or "Compatible"))
            TransparentStates++;
    }

    private void Font(DictionaryToken font, int depth)
    {
        var kind = Name(font, "Subtype");
        if (kind == "Type3")
        {
            // Its glyphs are drawings of the page.
            if (Dictionary(font, "Resources") is { } inner)
                Resources(inner, depth + 1);
            return;
        }
        var descended =
            kind == "Type0"
            && font.TryGet(NameToken.Create("DescendantFonts"), out var list)
            && Direct<ArrayToken>(list) is { Length: > 0 } fonts
                ? Direct<DictionaryToken>(fonts[0])
                : font;
        var name = Name(font, "BaseFont") ?? "a font without a name";
        var descriptor = descended is null ? null : Dictionary(descended, "FontDescriptor");
        var embedded = descriptor is not null && FontFiles.Any(key => descriptor.ContainsKey(NameToken.Create(key)));
        var set = embedded ? EmbeddedFonts : MissingFonts;
        if (set.Count < 100)
            set.Add(WithoutSubsetMark(name));
    }

    /// <summary>ISO 32000-1, 9.6.4: six capitals and a plus sign before the name of a subset.</summary>
    private static string WithoutSubsetMark(string name) =>
        name.Length > 7 && name[6] == '+' && name.AsSpan(0, 6).IndexOfAnyExceptInRange('A', 'Z') < 0 ? name[7..] : name;

    private IEnumerable<IToken> Values(DictionaryToken? dictionary)
    {
        foreach (var (_, value) in dictionary?.Data ?? new Dictionary<string, IToken>())
        {
            if (++_parts > MostParts)
                yield break;
            // A part met before says nothing new, and may be the one we came from.
            if (value is IndirectReferenceToken reference && !_seen.Add(reference.Data))
                continue;
            yield return value;
        }
    }

    private DictionaryToken? Dictionary(DictionaryToken from, string key) =>
        from.TryGet(NameToken.Create(key), out var token) ? Direct<DictionaryToken>(token) : null;

    private string? Name(DictionaryToken from, string key) =>
        from.TryGet(NameToken.Create(key), out var token) ? Direct<NameToken>(token)?.Data : null;

    private bool Is(DictionaryToken from, string key) =>
        from.TryGet(NameToken.Create(key), out var token) && Direct<BooleanToken>(token) is { Data: true };

    private bool Below(DictionaryToken from, string key) =>
        from.TryGet(NameToken.Create(key), out var token) && Direct<NumericToken>(token) is { Double: < 1 };

    private T? Direct<T>(IToken token)
        where T : class, IToken
    {
        try
        {
            return DirectObjectFinder.TryGet<T>(token, _scanner, out var found) ? found : null;
        }
        catch (PdfDocumentFormatException)
        {
            return null;
        }
    }
}
