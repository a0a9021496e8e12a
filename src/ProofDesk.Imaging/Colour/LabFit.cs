namespace ProofDesk.Imaging.Colour;

/// <summary>
/// Three numbers of a model, so that its colour is the wanted one: damped least squares on Lab (Levenberg 1944, Marquardt 1963).
/// </summary>
public static class LabFit
{
    /// <param name="start">Near enough that the way down from it leads to the solution.</param>
    /// <param name="model">Lab of the three numbers, each kept within -60..60.</param>
    /// <returns>The best three numbers found; the caller compares the model's colour with the wanted one.</returns>
    public static double[] Solve(double[] start, Lab wanted, Func<double[], Lab> model)
    {
        var best = start;
        var off = Off(model(best), wanted);
        var damping = 0.1;
        for (var round = 0; round < 40 && Square(off) > 0.01; round++)
        {
            var (normal, gradient) = Normal(best, off, wanted, model);
            for (var i = 0; i < 3; i++)
                normal[i, i] += damping * (normal[i, i] + 1e-3);
            var step = Step(normal, gradient);
            var next = new double[3];
            for (var i = 0; i < 3; i++)
                next[i] = Math.Clamp(best[i] - step[i], -60, 60);
            var nextOff = Off(model(next), wanted);
            if (Square(nextOff) < Square(off))
                (best, off, damping) = (next, nextOff, Math.Max(1e-6, damping / 4));
            else if ((damping *= 5) > 1e6)
                break;
        }
        return best;
    }

    private static (double[,] Normal, double[] Gradient) Normal(
        double[] at,
        double[] off,
        Lab wanted,
        Func<double[], Lab> model
    )
    {
        var slopes = new double[3][];
        for (var i = 0; i < 3; i++)
        {
            var moved = (double[])at.Clone();
            var step = 1e-3 * (1 + Math.Abs(at[i]));
            moved[i] += step;
            var there = Off(model(moved), wanted);
            slopes[i] = [(there[0] - off[0]) / step, (there[1] - off[1]) / step, (there[2] - off[2]) / step];
        }
        var normal = new double[3, 3];
        var gradient = new double[3];
        for (var i = 0; i < 3; i++)
        {
            gradient[i] = Dot(slopes[i], off);
            for (var j = 0; j < 3; j++)
                normal[i, j] = Dot(slopes[i], slopes[j]);
        }
        return (normal, gradient);
    }

    private static double[] Off(Lab a, Lab b) => [a.L - b.L, a.A - b.A, a.B - b.B];

    private static double Square(double[] v) => Dot(v, v);

    private static double Dot(double[] a, double[] b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

    /// <summary>Cramer's rule.</summary>
    private static double[] Step(double[,] m, double[] v)
    {
        double Det(int column) // with this column replaced by v; -1: none
        {
            double At(int r, int c) => c == column ? v[r] : m[r, c];
            return At(0, 0) * (At(1, 1) * At(2, 2) - At(1, 2) * At(2, 1))
                - At(0, 1) * (At(1, 0) * At(2, 2) - At(1, 2) * At(2, 0))
                + At(0, 2) * (At(1, 0) * At(2, 1) - At(1, 1) * At(2, 0));
        }
        var whole = Det(-1);
        return Math.Abs(whole) < 1e-300 ? [0, 0, 0] : [Det(0) / whole, Det(1) / whole, Det(2) / whole];
    }
}
