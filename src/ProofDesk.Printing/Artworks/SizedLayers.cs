using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Artworks;

/// <summary>Layers follow the picture they belong to: cropped to the same extent, shrunk to the same pixels.</summary>
internal static class SizedLayers
{
    /// <summary>
    /// Where the background was taken out of the picture, no layer prints either. A layer that runs on under the drawing
    /// stays there: its coverage is cut to the opacity that the picture still has, and not multiplied with it, or the
    /// antialiased edges of the drawing would count twice.
    /// </summary>
    public static ImmutableArray<ArtLayer> Within(
        ImmutableArray<ArtLayer> layers,
        RgbaRaster given,
        RgbaRaster answered
    ) =>
        ReferenceEquals(given, answered)
            ? layers
            : [.. layers.Select(layer => layer with { Coverage = CutTo(answered, layer.Coverage) })];

    public static ImmutableArray<ArtLayer> Crop(ImmutableArray<ArtLayer> layers, Island inked) =>
        [.. layers.Select(layer => layer with { Coverage = Crop(layer.Coverage, inked) })];

    public static ImmutableArray<ArtLayer> Shrink(ImmutableArray<ArtLayer> layers, int width, int height) =>
        [
            .. layers.Select(layer =>
                layer.Coverage.Width == width && layer.Coverage.Height == height
                    ? layer
                    : layer with
                    {
                        Coverage = AreaAverage.Shrink(layer.Coverage, width, height),
                    }
            ),
        ];

    private static BytePlane CutTo(RgbaRaster picture, BytePlane coverage)
    {
        var cut = new BytePlane(coverage.Width, coverage.Height);
        RowLoop.Run(
            coverage.Height,
            coverage.Width,
            y =>
            {
                var from = coverage.Row(y);
                var pixels = picture.Row(y);
                var to = cut.Row(y);
                for (var x = 0; x < to.Length; x++)
                    to[x] = Math.Min(from[x], (byte)((pixels[4 * x + 3] + 128) / 257));
            }
        );
        return cut;
    }

    private static BytePlane Crop(BytePlane plane, Island inked)
    {
        if (inked.Width == plane.Width && inked.Height == plane.Height)
            return plane;
        var cropped = new BytePlane(inked.Width, inked.Height);
        for (var y = 0; y < inked.Height; y++)
            plane.Row(inked.Top + y).Slice(inked.Left, inked.Width).CopyTo(cropped.Row(y));
        return cropped;
    }
}
