using NetVips;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs.Layers;

/// <summary>
/// Draws the layers of an SVG one at a time, each alone on nothing: what is opaque is ink. A small drawing tells first whether each
/// paints one colour, so that an ordinary picture costs little more than before.
/// </summary>
internal static class SvgLayerDrawing
{
    /// <summary>Longest side of the small drawing, px.</summary>
    private const int Small = 700;

    /// <summary>Opacity below which the colour of a pixel is mostly rounding.</summary>
    private const int Vague = 64;

    /// <summary>Codes that pixels of one colour may differ by.</summary>
    private const int Alike = 8;

    /// <summary>Share of what a group paints that may have another colour: a stray pixel, a rounding.</summary>
    private const double Strays = 0.005;

    /// <summary>Films are often drawn in black, every layer: then black is no colour but the sign for ink.</summary>
    private const int FilmBlack = 40;

    /// <returns>Empty when the drawing is read flat; a finding says why where it looked like layers.</returns>
    public static IReadOnlyList<ArtLayer> Draw(
        byte[] document,
        double scale,
        (int Width, int Height) size,
        DecodeLimits limits,
        List<Finding> findings
    )
    {
        var (layers, notTaken) = SvgLayers.Find(document, limits);
        if (notTaken is not null)
            findings.Add(notTaken);
        if (layers.Count == 0)
            return [];
        PageSet.TotalPixels(layers.Count, size.Width, size.Height, limits);
        var small = Math.Min(scale, scale * Small / Math.Max(size.Width, size.Height));
        var colours = new List<string?>();
        foreach (var layer in layers)
        {
            var (colour, isOne) = ColourOf(layer.Document, small);
            if (!isOne)
            {
                findings.Add(SvgLayers.SeveralColours(layer.Name, layers));
                return [];
            }
            colours.Add(colour);
        }
        var films = colours.Where(c => c is not null).ToArray();
        var isFilms = films.Length > 1 && films.All(c => IsBlack(c!));
        var drawn = layers.Select(
            (layer, i) => new ArtLayer(layer.Name, isFilms ? null : colours[i], Opacity(layer.Document, scale, size))
        );
        var inked = LayerStack.WithInk(drawn, findings);
        if (inked.Length > 0)
            findings.Add(LayerStack.Taken(inked));
        return inked;
    }

    private static BytePlane Opacity(byte[] document, double scale, (int Width, int Height) size)
    {
        using var drawn = Image.SvgloadBuffer(document, dpi: 96, scale: scale);
        if (drawn.Width != size.Width || drawn.Height != size.Height)
            throw new InvalidOperationException(
                $"a layer was drawn {drawn.Width} x {drawn.Height} px in a picture of {size.Width} x {size.Height} px"
            );
        using var alpha = drawn[3];
        return new(size.Width, size.Height, alpha.WriteToMemory<byte>());
    }

    /// <summary>The commonest colour of what is painted, and whether there is no other; null when nothing is painted.</summary>
    private static (string? Colour, bool IsOne) ColourOf(byte[] document, double scale)
    {
        using var drawn = Image.SvgloadBuffer(document, dpi: 96, scale: scale);
        var pixels = drawn.WriteToMemory<byte>();
        var cells = new Dictionary<int, (long R, long G, long B, long Weight)>();
        for (var i = 0; i < pixels.Length; i += 4)
        {
            if (pixels[i + 3] < Vague)
                continue;
            var cell = (pixels[i] >> 3 << 10) | (pixels[i + 1] >> 3 << 5) | (pixels[i + 2] >> 3);
            var sum = cells.GetValueOrDefault(cell);
            long weight = pixels[i + 3];
            cells[cell] = (
                sum.R + weight * pixels[i],
                sum.G + weight * pixels[i + 1],
                sum.B + weight * pixels[i + 2],
                sum.Weight + weight
            );
        }
        if (cells.Count == 0)
            return (null, true);
        var (r, g, b, most) = cells.Values.MaxBy(c => c.Weight);
        var (mr, mg, mb) = (
            (int)Math.Round((double)r / most),
            (int)Math.Round((double)g / most),
            (int)Math.Round((double)b / most)
        );
        long strays = 0,
            all = 0;
        for (var i = 0; i < pixels.Length; i += 4)
        {
            if (pixels[i + 3] < Vague)
                continue;
            all += pixels[i + 3];
            var off = Math.Max(
                Math.Abs(pixels[i] - mr),
                Math.Max(Math.Abs(pixels[i + 1] - mg), Math.Abs(pixels[i + 2] - mb))
            );
            if (off > Alike)
                strays += pixels[i + 3];
        }
        return ($"#{mr:x2}{mg:x2}{mb:x2}", strays <= Strays * all);
    }

    private static bool IsBlack(string hex)
    {
        var rgb = Convert.ToInt32(hex[1..], 16);
        return (rgb >> 16) <= FilmBlack && (rgb >> 8 & 255) <= FilmBlack && (rgb & 255) <= FilmBlack;
    }
}
