using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>The second pass of <see cref="DistanceField"/>: from distances within columns to distances in the plane.</summary>
internal static class DistanceRows
{
    /// <summary>Lower envelope of the parabolas (x - q)^2 + column[q]^2; exact at any distance.</summary>
    internal static void Envelope(ReadOnlySpan<int> column, Span<float> row, int none, float limit)
    {
        var width = column.Length;
        var roots = new int[width];
        var from = new double[width + 1];
        var last = -1;
        for (var q = 0; q < width; q++)
        {
            if (column[q] >= none)
                continue;
            var f = (double)column[q] * column[q] + (double)q * q;
            var meets = double.NegativeInfinity;
            while (last >= 0)
            {
                var r = roots[last];
                meets = (f - ((double)column[r] * column[r] + (double)r * r)) / (2.0 * (q - r));
                if (meets > from[last])
                    break;
                last--;
            }
            roots[++last] = q;
            from[last] = last == 0 ? double.NegativeInfinity : meets;
        }
        if (last < 0)
        {
            row.Fill(limit);
            return;
        }
        var k = 0;
        for (var x = 0; x < width; x++)
        {
            while (k < last && from[k + 1] < x)
                k++;
            double dx = x - roots[k];
            row[x] = Math.Min(limit, (float)Math.Sqrt(dx * dx + (double)column[roots[k]] * column[roots[k]]));
        }
    }

    /// <summary>Smallest of 2 x reach + 1 neighbours, eight pixels at a time.</summary>
    internal static void Window(ReadOnlySpan<int> column, Span<float> row, int reach, float limit)
    {
        var width = column.Length;
        var far = (reach + 1) * (reach + 1);
        var squares = new int[width + 2 * reach + Vector256<int>.Count];
        squares.AsSpan().Fill(far);
        for (var x = 0; x < width; x++)
            squares[x + reach] = Math.Min(far, column[x] * column[x]);
        ref var first = ref MemoryMarshal.GetArrayDataReference(squares);
        ref var target = ref MemoryMarshal.GetReference(row);
        var most = Vector256.Create(limit);
        for (var x = 0; x < width; x += Vector256<int>.Count)
        {
            var best = Vector256.Create(far);
            for (var d = -reach; d <= reach; d++)
                best = Vector256.Min(
                    best,
                    Vector256.LoadUnsafe(ref first, (nuint)(x + reach + d)) + Vector256.Create(d * d)
                );
            var distance = Vector256.Min(most, Vector256.Sqrt(Vector256.ConvertToSingle(best)));
            if (x + Vector256<int>.Count <= width)
                distance.StoreUnsafe(ref target, (nuint)x);
            else
                for (var i = 0; x + i < width; i++)
                    row[x + i] = distance[i];
        }
    }
}
