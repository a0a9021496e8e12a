namespace ProofDesk.Printing.TestForms;

/// <summary>Linear least squares of a few unknowns by the normal equations.</summary>
internal static class LeastSquares
{
    /// <param name="rows">Coefficients, then the wanted value last.</param>
    public static double[] Solve(IReadOnlyList<double[]> rows, int unknowns)
    {
        var m = new double[unknowns, unknowns + 1];
        foreach (var row in rows)
            for (var i = 0; i < unknowns; i++)
            {
                for (var j = 0; j < unknowns; j++)
                    m[i, j] += row[i] * row[j];
                m[i, unknowns] += row[i] * row[^1];
            }
        for (var k = 0; k < unknowns; k++)
        for (var i = 0; i < unknowns; i++)
        {
            if (i == k || m[k, k] == 0)
                continue;
            var share = m[i, k] / m[k, k];
            for (var c = k; c <= unknowns; c++)
                m[i, c] -= share * m[k, c];
        }
        return [.. Enumerable.Range(0, unknowns).Select(i => m[i, i] == 0 ? 0 : m[i, unknowns] / m[i, i])];
    }
}
