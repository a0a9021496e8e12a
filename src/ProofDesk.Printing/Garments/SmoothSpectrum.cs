using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Garments;

/// <summary>
/// A smooth reflectance that has a wanted colour, when all that is known is the colour: a sigmoid of a quadratic in the
/// wavelength, [JAKOB-HANIKA-2019] equations 4 and 6, bounded to 0..1 by its form. Found by damped least squares on
/// Lab; the spectrum is assumed, so whoever uses it says data class B or C.
/// </summary>
internal static class SmoothSpectrum
{
    private const int Rounds = 200;
    private const double Step = 1e-6;

    internal static Spectrum WithColour(Lab lab, ViewingLight light)
    {
        // Start from the grey of the same lightness.
        var grey = Math.Clamp(CieLab.ToXyz(new(lab.L, 0, 0), light).Y / 100, 1e-4, 1 - 1e-4);
        var c = new[] { 0, 0, (grey - 0.5) / Math.Sqrt(grey * (1 - grey)) };
        var damping = 1e-3;
        var residual = Residual(c, lab, light);
        for (var round = 0; round < Rounds && Norm(residual) > 1e-12; round++)
        {
            var step = Solve(Jacobian(c, residual, lab, light), residual, damping);
            var trial = new[] { c[0] - step[0], c[1] - step[1], c[2] - step[2] };
            var trialResidual = Residual(trial, lab, light);
            if (Norm(trialResidual) < Norm(residual))
                (c, residual, damping) = (trial, trialResidual, damping / 4);
            else
                damping *= 8;
            if (damping > 1e12)
                break;
        }
        return Sigmoid(c);
    }

    private static Spectrum Sigmoid(double[] c) =>
        Spectrum.From(nm =>
        {
            // Wavelength scaled to -1..1 keeps the three coefficients of one size.
            var t = (nm - 555) / 175;
            var x = (c[0] * t + c[1]) * t + c[2];
            return 0.5 + x / (2 * Math.Sqrt(1 + x * x));
        });

    private static double[] Residual(double[] c, Lab wanted, ViewingLight light)
    {
        var lab = CieLab.FromXyz(Tristimulus.Of(Sigmoid(c), light), light);
        return [lab.L - wanted.L, lab.A - wanted.A, lab.B - wanted.B];
    }

    private static double[,] Jacobian(double[] c, double[] residual, Lab wanted, ViewingLight light)
    {
        var j = new double[3, 3];
        for (var k = 0; k < 3; k++)
        {
            var moved = (double[])c.Clone();
            moved[k] += Step;
            var there = Residual(moved, wanted, light);
            for (var r = 0; r < 3; r++)
                j[r, k] = (there[r] - residual[r]) / Step;
        }
        return j;
    }

    // (J'J + damping diag(J'J)) step = J' residual, three unknowns by Cramer's rule (Levenberg 1944, Marquardt 1963).
    private static double[] Solve(double[,] j, double[] residual, double damping)
    {
        var n = new double[3, 3];
        var g = new double[3];
        for (var r = 0; r < 3; r++)
        for (var a = 0; a < 3; a++)
        {
            g[a] += j[r, a] * residual[r];
            for (var b = 0; b < 3; b++)
                n[a, b] += j[r, a] * j[r, b];
        }
        for (var a = 0; a < 3; a++)
            n[a, a] = n[a, a] * (1 + damping) + 1e-12;

        var whole = Determinant(n);
        var step = new double[3];
        for (var k = 0; k < 3; k++)
        {
            var replaced = (double[,])n.Clone();
            for (var r = 0; r < 3; r++)
                replaced[r, k] = g[r];
            step[k] = Determinant(replaced) / whole;
        }
        return step;
    }

    private static double Determinant(double[,] m) =>
        m[0, 0] * (m[1, 1] * m[2, 2] - m[1, 2] * m[2, 1])
        - m[0, 1] * (m[1, 0] * m[2, 2] - m[1, 2] * m[2, 0])
        + m[0, 2] * (m[1, 0] * m[2, 1] - m[1, 1] * m[2, 0]);

    private static double Norm(double[] v) => v[0] * v[0] + v[1] * v[1] + v[2] * v[2];
}
