namespace ProofDesk.Printing.TestForms;

/// <summary>
/// A projective map of the plane from four point pairs: turned, scaled, sheared, and pulled to a trapezium, as a scan or a
/// photograph of a flat sheet is. u = (a x + b y + c) / (g x + h y + 1), v likewise.
/// </summary>
internal sealed class PlaneMap
{
    private readonly double[] _m;

    private PlaneMap(double[] m) => _m = m;

    public static PlaneMap Of(ReadOnlySpan<(double X, double Y)> from, ReadOnlySpan<(double X, double Y)> to)
    {
        var rows = new double[8, 9];
        for (var i = 0; i < 4; i++)
        {
            var ((x, y), (u, v)) = (from[i], to[i]);
            double[] first = [x, y, 1, 0, 0, 0, -u * x, -u * y, u];
            double[] second = [0, 0, 0, x, y, 1, -v * x, -v * y, v];
            for (var k = 0; k < 9; k++)
                (rows[2 * i, k], rows[2 * i + 1, k]) = (first[k], second[k]);
        }
        return new(Solve(rows));
    }

    public (double X, double Y) Map(double x, double y)
    {
        var w = _m[6] * x + _m[7] * y + 1;
        return ((_m[0] * x + _m[1] * y + _m[2]) / w, (_m[3] * x + _m[4] * y + _m[5]) / w);
    }

    // Gauss with the largest pivot.
    private static double[] Solve(double[,] rows)
    {
        const int N = 8;
        for (var k = 0; k < N; k++)
        {
            var pivot = Enumerable.Range(k, N - k).MaxBy(i => Math.Abs(rows[i, k]));
            for (var c = 0; c <= N; c++)
                (rows[k, c], rows[pivot, c]) = (rows[pivot, c], rows[k, c]);
            for (var i = 0; i < N; i++)
            {
                if (i == k)
                    continue;
                var share = rows[i, k] / rows[k, k];
                for (var c = k; c <= N; c++)
                    rows[i, c] -= share * rows[k, c];
            }
        }
        return [.. Enumerable.Range(0, N).Select(i => rows[i, N] / rows[i, i])];
    }
}
