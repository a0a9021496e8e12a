using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// The tones of four dyes that come nearest to a colour: damped least squares ([LEVENBERG-1944]) on the Oklab difference,
/// tones kept within 0..1, plus a little cost of ink that decides where black replaces the three colours ([PHYSICS] 1.19).
/// Out of reach, hue is kept rather than chroma.
/// </summary>
internal sealed class DyeSolver(DyeTones model)
{
    private const int Inks = DyeTones.Dyes;
    private const int Residuals = 3 + Inks;
    private const int Steps = 24;

    /// <summary>Weight of an error along the chroma and along the hue of a colourful target; 1 for a neutral one.</summary>
    private const double ChromaWeight = 0.75;
    private const double HueWeight = 1.7;

    /// <summary>Cost of a full tone, as an Oklab distance: a third of one just noticeable step.</summary>
    private const double InkCost = 0.007;

    /// <summary>Black starts in the dark half: in pale tones its dots show as grain.</summary>
    private const double BlackCostInLight = 0.06;

    private readonly double[] _residual = new double[Residuals];
    private readonly double[] _shifted = new double[Residuals];
    private readonly double[,] _jacobian = new double[Residuals, Inks];
    private readonly double[,] _normal = new double[Inks, Inks + 1];
    private readonly double[] _step = new double[Inks];
    private readonly double[] _trial = new double[Inks];

    /// <summary>Improves <paramref name="tones"/>, which holds a first guess.</summary>
    public void Solve(Oklab target, double[] tones)
    {
        var damping = 1e-3;
        var cost = Cost(target, tones, _residual);
        for (var i = 0; i < Steps; i++)
        {
            Differentiate(target, tones);
            var better = false;
            for (var attempt = 0; attempt < 6 && !better; attempt++)
            {
                Step(tones, damping);
                var moved = 0.0;
                for (var k = 0; k < Inks; k++)
                {
                    _trial[k] = Math.Clamp(tones[k] + _step[k], 0, 1);
                    moved = Math.Max(moved, Math.Abs(_trial[k] - tones[k]));
                }
                if (moved < 1e-6)
                    return;
                var there = Cost(target, _trial, _shifted);
                better = there < cost;
                damping = better ? Math.Max(1e-7, damping / 5) : damping * 6;
                if (!better)
                    continue;
                cost = there;
                _trial.CopyTo(tones, 0);
                _shifted.CopyTo(_residual, 0);
            }
            if (!better)
                return;
        }
    }

    private double Cost(Oklab target, double[] tones, double[] residual)
    {
        var colour = Oklab.FromLinear(Srgb.FromXyz(model.Of(tones), ViewingLight.D50));
        var (da, db) = (colour.A - target.A, colour.B - target.B);
        var chroma = target.Chroma;
        var colourful = chroma / (chroma + 0.03);
        var (ux, uy) = chroma > 1e-9 ? (target.A / chroma, target.B / chroma) : (1, 0);
        residual[0] = colour.L - target.L;
        residual[1] = (1 + (ChromaWeight - 1) * colourful) * (da * ux + db * uy);
        residual[2] = (1 + (HueWeight - 1) * colourful) * (db * ux - da * uy);
        for (var k = 0; k < Inks; k++)
            residual[3 + k] = tones[k] * (k < 3 ? InkCost : BlackCost(target.L));
        var sum = 0.0;
        foreach (var r in residual)
            sum += r * r;
        return sum;
    }

    private static double BlackCost(double lightness)
    {
        var t = Math.Clamp((lightness - 0.35) / 0.45, 0, 1);
        return InkCost / 2 + (BlackCostInLight - InkCost / 2) * t * t * (3 - 2 * t);
    }

    private void Differentiate(Oklab target, double[] tones)
    {
        const double h = 1e-4;
        for (var k = 0; k < Inks; k++)
        {
            var kept = tones[k];
            var shift = kept > 0.5 ? -h : h;
            tones[k] = kept + shift;
            _ = Cost(target, tones, _shifted);
            tones[k] = kept;
            for (var r = 0; r < Residuals; r++)
                _jacobian[r, k] = (_shifted[r] - _residual[r]) / shift;
        }
    }

    /// <summary>(J'J + damping I) step = -J'r; a tone at its end that wants further out stays.</summary>
    private void Step(double[] tones, double damping)
    {
        for (var i = 0; i < Inks; i++)
        {
            for (var j = 0; j < Inks; j++)
            {
                var sum = i == j ? damping : 0;
                for (var r = 0; r < Residuals; r++)
                    sum += _jacobian[r, i] * _jacobian[r, j];
                _normal[i, j] = sum;
            }
            var slope = 0.0;
            for (var r = 0; r < Residuals; r++)
                slope += _jacobian[r, i] * _residual[r];
            _normal[i, Inks] = -slope;
        }
        for (var i = 0; i < Inks; i++)
        {
            if (!((tones[i] <= 0 && _normal[i, Inks] < 0) || (tones[i] >= 1 && _normal[i, Inks] > 0)))
                continue;
            for (var j = 0; j < Inks; j++)
                (_normal[i, j], _normal[j, i]) = (0, 0);
            (_normal[i, i], _normal[i, Inks]) = (1, 0);
        }
        // Gauss elimination; the matrix is positive definite, so no pivot is needed.
        for (var i = 0; i < Inks; i++)
        for (var row = i + 1; row < Inks; row++)
        {
            var factor = _normal[row, i] / _normal[i, i];
            for (var j = i; j <= Inks; j++)
                _normal[row, j] -= factor * _normal[i, j];
        }
        for (var i = Inks - 1; i >= 0; i--)
        {
            var sum = _normal[i, Inks];
            for (var j = i + 1; j < Inks; j++)
                sum -= _normal[i, j] * _step[j];
            _step[i] = sum / _normal[i, i];
        }
    }
}
