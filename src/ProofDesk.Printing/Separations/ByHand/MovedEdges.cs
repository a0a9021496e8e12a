using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>
/// A film spread or choked by hand. The outline moves by exactly the distance asked, also where little is left of it; the
/// tones inside move with it. The film does not grow beyond the print. Solids of painted art are dark places of their plate: drawn
/// in, what was painted beside them follows, and no gap opens between the two.
/// </summary>
internal static class MovedEdges
{
    /// <summary>Films are interpolated from so many pixels past the outline.</summary>
    private const double RimPx = 2.5;

    public static Plate Of(Plate plate, double um, double pixelsPerMm)
    {
        var px = um / 1000 * pixelsPerMm;
        // A plate that is tone all over ends where the print ends, and is drawn in from there.
        var shape = plate.Shape ?? (px < 0 ? Filled(plate.Tone) : null);
        var ink = shape is not null && plate.Solid is { } stands ? BytePlane.Larger(shape, stands) : shape;
        var tone =
            IsFlat(plate.Tone) ? plate.Tone
            : shape is null ? ToneEdges.Moved(plate.Tone, px)
            : ToneEdges.Moved(Reaching(plate.Tone, shape, Math.Abs(px) + RimPx), px);
        return plate with
        {
            Shape = ink is null ? null : Moved(ink, px),
            Solid = plate.Solid is { } solid ? Moved(solid, px) : null,
            Tone = tone,
        };
    }

    public static BytePlane Moved(BytePlane shape, double px)
    {
        var distance = EdgeDistance.Of(shape, Math.Abs(px) + 1.5);
        return distance.Redrawn(
            shape,
            (coverage, x, y) => px > 0 ? distance.Grown(coverage, x, y, px) : distance.Shrunk(coverage, x, y, -px)
        );
    }

    public static BytePlane Filled(BytePlane like) => BytePlane.Filled(like.Width, like.Height, 255);

    private static bool IsFlat(BytePlane tone) => tone.Pixels.AsSpan().IndexOfAnyExcept(tone.Pixels[0]) < 0;

    /// <summary>Around the outline, what lies outside takes the tone of the nearest pixel inside.</summary>
    private static BytePlane Reaching(BytePlane tone, BytePlane shape, double reachPx)
    {
        var distance = EdgeDistance.Of(shape, reachPx + 1);
        var reach = (int)Math.Ceiling(reachPx) + 1;
        var around = Enumerable
            .Range(-reach, 2 * reach + 1)
            .SelectMany(dy => Enumerable.Range(-reach, 2 * reach + 1).Select(dx => (X: dx, Y: dy)))
            .OrderBy(d => d.X * d.X + d.Y * d.Y)
            .ToArray();
        return distance.Redrawn(tone, (made, x, y) => shape[x, y] < 128 ? Nearest(x, y) ?? made : made);

        byte? Nearest(int x, int y)
        {
            foreach (var (dx, dy) in around)
            {
                var (nx, ny) = (x + dx, y + dy);
                if (nx >= 0 && ny >= 0 && nx < shape.Width && ny < shape.Height && shape[nx, ny] >= 128)
                    return tone[nx, ny];
            }
            return null;
        }
    }
}
