using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>
/// A film spread or choked by hand. The outline moves by exactly the distance asked, also where little is left of it; the
/// tones inside move with it. The film does not grow beyond the print.
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
        var tone =
            IsFlat(plate.Tone) ? plate.Tone
            : shape is null ? ToneEdges.Moved(plate.Tone, px)
            : ToneEdges.Moved(Reaching(plate.Tone, shape, Math.Abs(px) + RimPx), px);
        return plate with
        {
            Shape = shape is null ? null : Moved(shape, px),
            Solid = plate.Solid is { } solid ? Moved(solid, px) : null,
            Tone = tone,
        };
    }

    public static BytePlane Moved(BytePlane shape, double px)
    {
        var distance = EdgeDistance.Of(shape, Math.Abs(px) + 1.5);
        var moved = new BytePlane(shape.Width, shape.Height);
        RowLoop.Run(
            shape.Height,
            shape.Width,
            y =>
            {
                shape.Row(y).CopyTo(moved.Row(y));
                var steps = distance.Row(y);
                var row = moved.Row(y);
                for (var x = 0; x < steps.Length; x++)
                {
                    var skip = steps[x..].IndexOfAnyExcept((byte)255);
                    if (skip < 0)
                        break;
                    x += skip;
                    row[x] = px > 0 ? distance.Grown(row[x], x, y, px) : distance.Shrunk(row[x], x, y, -px);
                }
            }
        );
        return moved;
    }

    public static BytePlane Filled(BytePlane like)
    {
        var solid = new BytePlane(like.Width, like.Height);
        solid.Pixels.AsSpan().Fill(255);
        return solid;
    }

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
        var result = new BytePlane(tone.Width, tone.Height);
        RowLoop.Run(
            tone.Height,
            tone.Width,
            y =>
            {
                tone.Row(y).CopyTo(result.Row(y));
                var steps = distance.Row(y);
                var row = result.Row(y);
                var inside = shape.Row(y);
                for (var x = 0; x < steps.Length; x++)
                {
                    var skip = steps[x..].IndexOfAnyExcept((byte)255);
                    if (skip < 0)
                        break;
                    x += skip;
                    if (inside[x] < 128)
                        row[x] = Nearest(x, y) ?? row[x];
                }
            }
        );
        return result;

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
