using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs.Layers;

/// <summary>A page of a file, or a picture of a set, that shows one ink.</summary>
/// <param name="Said">How messages call it: "page 2 \"Blue\"" or "\"02_blue.png\"".</param>
internal sealed record InkPage(string Said, string Name, OneInk Ink, int Bits, bool HasAlpha);

/// <summary>Pages that show one ink each become the layers of one picture.</summary>
internal static class PageSet
{
    /// <exception cref="UnreadableArt">The pages are not of one size, or too much together.</exception>
    public static DecodedPicture Of(
        IReadOnlyList<InkPage> pages,
        string format,
        DecodeLimits limits,
        List<Finding> findings
    )
    {
        var first = pages[0];
        foreach (var page in pages.Skip(1))
            SameSize(first, page);
        TotalPixels(pages.Count, first.Ink.Coverage.Width, first.Ink.Coverage.Height, limits);
        var names = Names(pages);
        var layers = LayerStack.WithInk(
            pages.Select((p, i) => new ArtLayer(names[i], p.Ink.Colour, p.Ink.Coverage)),
            findings
        );
        if (layers.IsEmpty)
            throw new UnreadableArt(
                "layers-empty",
                $"none of the {pages.Count} pictures has any ink in it: dark is ink, white is none",
                "invert them, if they are negatives, and send them again"
            );
        findings.Add(LayerStack.Taken(layers));
        var pixels = LayerStack.Compose(layers);
        var model = layers.All(l => l.Colour is null) ? "grey" : "rgb";
        return new(
            pixels,
            new(
                format,
                pixels.Width,
                pixels.Height,
                pages.Max(p => p.Bits),
                model,
                null,
                pages.Any(p => p.HasAlpha),
                false
            ),
            findings
        )
        {
            Layers = layers,
        };
    }

    /// <exception cref="UnreadableArt">More than the limit.</exception>
    public static void TotalPixels(int layers, long width, long height, DecodeLimits limits)
    {
        var total = layers * width * height;
        if (total > limits.MaxLayerPixels)
            throw new UnreadableArt(
                "too-many-layer-pixels",
                FormattableString.Invariant(
                    $"{layers} layers of {width} x {height} px are {total / 1e6:0.#} megapixels; {limits.MaxLayerPixels / 1e6:0.#} are the limit"
                ),
                "scale them all down alike, 600 px per inch of print is enough, or send fewer layers",
                total,
                limits.MaxLayerPixels
            );
    }

    private static void SameSize(InkPage first, InkPage other)
    {
        BytePlane a = first.Ink.Coverage,
            b = other.Ink.Coverage;
        if (a.Width == b.Width && a.Height == b.Height)
            return;
        var (wider, higher) = (b.Width - a.Width, b.Height - a.Height);
        string[] by =
        [
            .. wider == 0 ? Array.Empty<string>() : [$"{Math.Abs(wider)} px {(wider > 0 ? "wider" : "narrower")}"],
            .. higher == 0 ? Array.Empty<string>() : [$"{Math.Abs(higher)} px {(higher > 0 ? "higher" : "lower")}"],
        ];
        throw new UnreadableArt(
            "layers-of-unequal-size",
            $"{other.Said} is {b.Width} x {b.Height} px, {string.Join(" and ", by)} than {first.Said}: layers of one print lie on each other and have one size",
            "export all layers with the whole canvas, none of them cropped"
        );
    }

    /// <summary>Two layers of one name are numbered, or their plates could not be told apart.</summary>
    private static ImmutableArray<string> Names(IReadOnlyList<InkPage> pages)
    {
        var taken = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        return
        [
            .. pages.Select(page =>
            {
                var name = page.Name;
                for (var i = 2; !taken.Add(name); i++)
                    name = $"{page.Name} {i}";
                return name;
            }),
        ];
    }
}
