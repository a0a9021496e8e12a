using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>Rectangles cut out of a film, to a hundredth of a pixel.</summary>
internal static class KeptOut
{
    public static Plate Of(Plate plate, ImmutableArray<KeepOut> boxes, double pixelsPerMm) =>
        plate with
        {
            Shape = Cut(plate.Shape ?? MovedEdges.Filled(plate.Tone), boxes, pixelsPerMm),
            Solid = plate.Solid is { } solid ? Cut(solid, boxes, pixelsPerMm) : null,
        };

    private static BytePlane Cut(BytePlane outline, ImmutableArray<KeepOut> boxes, double pixelsPerMm)
    {
        var shape = new BytePlane(outline.Width, outline.Height);
        outline.Pixels.CopyTo(shape.Pixels.AsSpan());
        foreach (var box in boxes)
        {
            var (left, right) = (box.XMm * pixelsPerMm, (box.XMm + box.WidthMm) * pixelsPerMm);
            var (top, bottom) = (box.YMm * pixelsPerMm, (box.YMm + box.HeightMm) * pixelsPerMm);
            for (var y = (int)top; y < Math.Min(shape.Height, bottom); y++)
            for (var x = (int)left; x < Math.Min(shape.Width, right); x++)
            {
                var cut = Inside(x, left, right) * Inside(y, top, bottom);
                shape[x, y] = Math.Min(shape[x, y], (byte)Math.Round(255 * (1 - cut)));
            }
        }
        return shape;
    }

    /// <summary>Share of a pixel between two edges.</summary>
    private static double Inside(int pixel, double from, double to) =>
        Math.Clamp(Math.Min(pixel + 1, to) - Math.Max(pixel, from), 0, 1);
}
