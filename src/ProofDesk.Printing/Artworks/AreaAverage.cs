using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Artworks;

/// <summary>
/// Fewer pixels by exact area averages in linear light, weighted by alpha so that colours do not bleed out of nothing.
/// Whole numbers throughout: box edges are cut to 1/256 of a pixel.
/// </summary>
internal static class AreaAverage
{
    public static RgbaRaster Shrink(RgbaRaster source, int width)
    {
        var height = Math.Max(1, (int)Math.Round((double)source.Height * width / source.Width));
        var target = new RgbaRaster(width, height);
        var across = Boxes(source.Width, width);
        var down = Boxes(source.Height, height);
        RowLoop.Run(
            height,
            source.Width * (source.Height / height + 1),
            y =>
            {
                var row = target.Row(y);
                for (var x = 0; x < width; x++)
                    Average(source, across[x], down[y], row.Slice(4 * x, 4));
            }
        );
        return target;
    }

    /// <summary>The same for a plane, into a size that is given.</summary>
    public static BytePlane Shrink(BytePlane source, int width, int height)
    {
        var target = new BytePlane(width, height);
        var across = Boxes(source.Width, width);
        var down = Boxes(source.Height, height);
        RowLoop.Run(
            height,
            source.Width * (source.Height / height + 1),
            y =>
            {
                var row = target.Row(y);
                for (var x = 0; x < width; x++)
                    row[x] = Average(source, across[x], down[y]);
            }
        );
        return target;
    }

    /// <summary>First pixel, number of pixels, and how much of the first and last belong to the box, of 256.</summary>
    private readonly record struct Box(int First, int Count, int FirstShare, int LastShare)
    {
        public int Share(int i) =>
            i == 0 ? FirstShare
            : i == Count - 1 ? LastShare
            : 256;
    }

    private static Box[] Boxes(int source, int target)
    {
        var boxes = new Box[target];
        for (var i = 0; i < target; i++)
        {
            var from = (long)i * source * 256 / target;
            var to = Math.Max(from + 1, (long)(i + 1) * source * 256 / target);
            var first = (int)(from >> 8);
            var last = (int)((to - 1) >> 8);
            boxes[i] =
                first == last
                    ? new(first, 1, (int)(to - from), 0)
                    : new(first, last - first + 1, 256 - (int)(from & 255), (int)(to - ((long)last << 8)));
        }
        return boxes;
    }

    private static void Average(RgbaRaster source, Box across, Box down, Span<ushort> pixel)
    {
        unchecked
        {
            ulong r = 0,
                g = 0,
                b = 0,
                a = 0,
                weights = 0;
            for (var j = 0; j < down.Count; j++)
            {
                var row = source.Row(down.First + j).Slice(4 * across.First, 4 * across.Count);
                for (var i = 0; i < across.Count; i++)
                {
                    var weight = (ulong)(across.Share(i) * down.Share(j));
                    var alpha = weight * row[4 * i + 3];
                    r += alpha * row[4 * i];
                    g += alpha * row[4 * i + 1];
                    b += alpha * row[4 * i + 2];
                    a += alpha;
                    weights += weight;
                }
            }
            if (a == 0)
                return;
            pixel[0] = (ushort)((r + a / 2) / a);
            pixel[1] = (ushort)((g + a / 2) / a);
            pixel[2] = (ushort)((b + a / 2) / a);
            pixel[3] = (ushort)((a + weights / 2) / weights);
        }
    }

    private static byte Average(BytePlane source, Box across, Box down)
    {
        unchecked
        {
            ulong sum = 0,
                weights = 0;
            for (var j = 0; j < down.Count; j++)
            {
                var row = source.Row(down.First + j).Slice(across.First, across.Count);
                for (var i = 0; i < across.Count; i++)
                {
                    var weight = (ulong)(across.Share(i) * down.Share(j));
                    sum += weight * row[i];
                    weights += weight;
                }
            }
            return (byte)((sum + weights / 2) / weights);
        }
    }
}
