using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Leaves the distance from a point in the pixels around it where it is smaller than what stands there: 254 steps up to
/// a limit, rounded. Sixteen pixels at a time.
/// </summary>
public static class DistanceStamp
{
    private const int Block = 16;

    /// <param name="limit">Pixels farther than this across or down are left alone.</param>
    /// <param name="top">First row that may be written.</param>
    /// <param name="bottom">Last row that may be written.</param>
    public static void Mark(BytePlane steps, float cx, float cy, float limit, int top, int bottom)
    {
        var scale = 254 / limit;
        var left = Math.Max(0, (int)Math.Ceiling(cx - limit));
        var right = Math.Min(steps.Width - 1, (int)Math.Floor(cx + limit));
        var first = Math.Max(top, (int)Math.Ceiling(cy - limit));
        var last = Math.Min(bottom, (int)Math.Floor(cy + limit));
        for (var y = first; y <= last; y++)
        {
            var row = steps.Row(y);
            var dy = (y - cy) * (y - cy);
            for (var x = left; x <= right; x += Block)
                if (x + Block <= row.Length)
                    MarkBlock(row, x, right, cx, dy, scale);
                else
                    for (var i = x; i <= right; i++)
                    {
                        var d = MathF.Sqrt((i - cx) * (i - cx) + dy) * scale + 0.5f;
                        if (d < row[i])
                            row[i] = (byte)d;
                    }
        }
    }

    private static void MarkBlock(Span<byte> row, int x, int right, float cx, float dy, float scale)
    {
        var (near, far) = (Steps(x, right, cx, dy, scale), Steps(x + 8, right, cx, dy, scale));
        var words = Vector256.Narrow(near, far).AsUInt16();
        var bytes = Vector128.Narrow(words.GetLower(), words.GetUpper());
        ref var target = ref MemoryMarshal.GetReference(row[x..]);
        // d < row exactly when its whole part is.
        Vector128.Min(Vector128.LoadUnsafe(ref target), bytes).StoreUnsafe(ref target);
    }

    private static Vector256<int> Steps(int x, int right, float cx, float dy, float scale)
    {
        var at = Vector256.Create(x) + Vector256<int>.Indices;
        var dx = Vector256.ConvertToSingle(at) - Vector256.Create(cx);
        var d = Vector256.Sqrt(dx * dx + Vector256.Create(dy)) * scale + Vector256.Create(0.5f);
        var whole = Vector256.Min(Vector256.ConvertToInt32Native(d), Vector256.Create(255));
        return whole | (Vector256.GreaterThan(at, Vector256.Create(right)) & Vector256.Create(255));
    }
}
