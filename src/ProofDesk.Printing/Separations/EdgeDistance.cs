using System.Runtime.InteropServices;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Distance to the edge of an antialiased drawing, to about a twentieth of a pixel, up to a limit. The edge runs where
/// the interpolated coverage is one half; its crossings with the pixel grid are collected (runs of equal pixels are skipped whole)
/// and each leaves its distance in the pixels around it. Work goes with the length of the edges, not with the area.
/// A transform between pixel centres (<see cref="DistanceField"/>) would be off by half a pixel, which at 300 dpi is a
/// third of a choke.
/// </summary>
internal sealed class EdgeDistance
{
    private readonly BytePlane _steps;
    private readonly float _perStep;

    private EdgeDistance(BytePlane steps, float perStep) => (_steps, _perStep) = (steps, perStep);

    /// <summary>Distance in px from a pixel's centre to the nearest edge; at least the limit where there is none so near.</summary>
    public float this[int x, int y] => _steps[x, y] * _perStep;

    /// <summary>255 = farther than the limit; see <see cref="PerStep"/>.</summary>
    public ReadOnlySpan<byte> Row(int y) => _steps.Row(y);

    /// <summary>Pixels per step of <see cref="Row"/>.</summary>
    public float PerStep => _perStep;

    public static EdgeDistance Of(BytePlane drawing, double limitPx)
    {
        var limit = (float)Math.Max(1, limitPx);
        var perStep = limit / 254;
        var rows = Crossings(drawing);
        var reach = (int)Math.Ceiling(limit);
        var steps = new BytePlane(drawing.Width, drawing.Height);
        RowLoop.RunBands(
            drawing.Height,
            Math.Max(64, (drawing.Height + 7) / 8),
            (top, count) =>
            {
                steps.Pixels.AsSpan(top * drawing.Width, count * drawing.Width).Fill(255);
                for (var y = Math.Max(0, top - reach - 1); y < Math.Min(drawing.Height, top + count + reach + 1); y++)
                    foreach (var (x, cy) in CollectionsMarshal.AsSpan(rows[y]))
                        DistanceStamp.Mark(steps, x, cy, limit, top, top + count - 1);
            }
        );
        return new(steps, perStep);
    }

    /// <summary>The drawing grown by so many px (up to the limit given to <see cref="Of"/>), antialiased.</summary>
    public byte Grown(byte coverage, int x, int y, double px) =>
        coverage >= 128
            ? Math.Max(coverage, Coverage(px + this[x, y]))
            : Math.Max(coverage, _steps[x, y] == 255 ? (byte)0 : Coverage(px - this[x, y]));

    /// <summary>The drawing shrunk by so many px, antialiased.</summary>
    public byte Shrunk(byte coverage, int x, int y, double px) =>
        coverage < 128
            ? Math.Min(coverage, Coverage(-px - this[x, y]))
            : Math.Min(coverage, _steps[x, y] == 255 ? (byte)255 : Coverage(this[x, y] - px));

    /// <summary>A copy of a drawing in which every pixel within the limit of an edge is what <paramref name="near"/> says.</summary>
    public BytePlane Redrawn(BytePlane drawing, NearEdge near)
    {
        var redrawn = new BytePlane(drawing.Width, drawing.Height);
        RowLoop.Run(
            drawing.Height,
            drawing.Width,
            y =>
            {
                var row = redrawn.Row(y);
                drawing.Row(y).CopyTo(row);
                var steps = Row(y);
                for (var x = 0; x < steps.Length; x++)
                {
                    var skip = steps[x..].IndexOfAnyExcept((byte)255);
                    if (skip < 0)
                        break;
                    x += skip;
                    row[x] = near(row[x], x, y);
                }
            }
        );
        return redrawn;
    }

    /// <summary>What a pixel near an edge becomes.</summary>
    public delegate byte NearEdge(byte coverage, int x, int y);

    private static byte Coverage(double inside) => (byte)Math.Round(255 * Math.Clamp(inside + 0.5, 0, 1));

    private static List<(float X, float Y)>[] Crossings(BytePlane drawing)
    {
        var rows = new List<(float, float)>[drawing.Height];
        RowLoop.Run(
            drawing.Height,
            drawing.Width,
            y =>
            {
                var points = rows[y] = [];
                ReadOnlySpan<byte> row = drawing.Row(y);
                Across(row, y, points);
                // Beyond the plane everything is blank, so a drawing that reaches its border ends there.
                if (y == 0)
                    AddBorder(row, -0.5f, points);
                if (y + 1 == drawing.Height)
                    AddBorder(row, y + 0.5f, points);
                else
                    Down(row, drawing.Row(y + 1), y, points);
            }
        );
        return rows;
    }

    private static void Across(ReadOnlySpan<byte> row, int y, List<(float, float)> points)
    {
        if (row[0] >= 128)
            points.Add((-0.5f, y));
        if (row[^1] >= 128)
            points.Add((row.Length - 0.5f, y));
        for (var x = 0; x < row.Length; )
        {
            var run = row[x..].IndexOfAnyExcept(row[x]);
            if (run < 0)
                break;
            x += run;
            if (row[x - 1] >= 128 != row[x] >= 128)
                points.Add((x - 1 + Crossing(row[x - 1], row[x]), y));
        }
    }

    private static void Down(ReadOnlySpan<byte> row, ReadOnlySpan<byte> next, int y, List<(float, float)> points)
    {
        for (var x = 0; x < row.Length; x++)
        {
            x += row[x..].CommonPrefixLength(next[x..]);
            if (x < row.Length && row[x] >= 128 != next[x] >= 128)
                points.Add((x, y + Crossing(row[x], next[x])));
        }
    }

    private static void AddBorder(ReadOnlySpan<byte> row, float y, List<(float, float)> points)
    {
        for (var x = 0; x < row.Length; x++)
            if (row[x] >= 128)
                points.Add((x, y));
    }

    private static float Crossing(byte a, byte b) => (127.5f - a) / (b - a);
}
