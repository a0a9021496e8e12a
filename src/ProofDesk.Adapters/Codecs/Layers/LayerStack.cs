using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs.Layers;

/// <summary>
/// The picture that layers make when they are laid on each other, the first lowest: what a file that holds only layers
/// does not say itself. A tint is an area partly covered, so colours mix in linear light.
/// </summary>
internal static class LayerStack
{
    public static RgbaRaster Compose(IReadOnlyList<ArtLayer> layers)
    {
        var (width, height) = (layers[0].Coverage.Width, layers[0].Coverage.Height);
        var colours = layers.Select(l => Light(l.Colour ?? LayerNames.DrawnIn(l.Name))).ToArray();
        var picture = new RgbaRaster(width, height);
        RowLoop.Run(
            height,
            width * layers.Count,
            y =>
            {
                var row = picture.Row(y);
                var planes = layers;
                for (var x = 0; x < width; x++)
                {
                    double r = 0,
                        g = 0,
                        b = 0,
                        alpha = 0;
                    for (var i = 0; i < planes.Count; i++)
                    {
                        var over = planes[i].Coverage.Row(y)[x] / 255.0;
                        if (over == 0)
                            continue;
                        (r, g, b) = (
                            over * colours[i].R + (1 - over) * r,
                            over * colours[i].G + (1 - over) * g,
                            over * colours[i].B + (1 - over) * b
                        );
                        alpha = over + (1 - over) * alpha;
                    }
                    if (alpha == 0)
                        continue;
                    row[4 * x] = Sixteen(r / alpha);
                    row[4 * x + 1] = Sixteen(g / alpha);
                    row[4 * x + 2] = Sixteen(b / alpha);
                    row[4 * x + 3] = Sixteen(alpha);
                }
            }
        );
        return picture;
    }

    /// <summary>What the reader says when it took layers.</summary>
    public static Finding Taken(IReadOnlyList<ArtLayer> layers) =>
        new(
            "layers-read",
            FindingWeight.Note,
            $"the file keeps {layers.Count} layers apart, the first printed first: {string.Join(", ", layers.Select(l => l.Name))}",
            "nothing, or have them flattened to separate the picture by its colours",
            layers.Count,
            null,
            "layers"
        );

    /// <summary>Layers without a dot of ink are no plates.</summary>
    public static ImmutableArray<ArtLayer> WithInk(IEnumerable<ArtLayer> layers, List<Finding> findings)
    {
        var kept = ImmutableArray.CreateBuilder<ArtLayer>();
        foreach (var layer in layers)
            if (layer.Coverage.Pixels.AsSpan().IndexOfAnyInRange((byte)6, byte.MaxValue) >= 0)
                kept.Add(layer);
            else
                findings.Add(
                    new(
                        "layer-empty",
                        FindingWeight.Note,
                        $"the layer \"{layer.Name}\" has no ink: no plate is made of it",
                        "nothing, or check that dark is ink and white is none in its picture"
                    )
                );
        return kept.ToImmutable();
    }

    private static ushort Sixteen(double light) => (ushort)Math.Round(65535 * Math.Clamp(light, 0, 1));

    private static LinearRgb Light(string hex)
    {
        var rgb = int.Parse(hex.AsSpan(1), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture);
        return Srgb.Decode((rgb >> 16) / 255.0, (rgb >> 8 & 255) / 255.0, (rgb & 255) / 255.0);
    }
}
