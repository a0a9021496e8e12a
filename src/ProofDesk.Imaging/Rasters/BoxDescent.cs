using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// A small quadratic problem inside a box: the step from a point that makes half the square of the missed least, by coordinate descent.
/// Rows of the matrix are padded to whole vectors; <see cref="PlainSquares"/> and <see cref="PlainStep"/> are the judges. One a thread.
/// </summary>
public sealed class BoxDescent
{
    private const int Width = 4;
    private const int Sweeps = 24;

    /// <summary>A sweep that moves nothing by more ends it.</summary>
    private const double Settled = 1e-5;

    private readonly double[] _matrix;
    private readonly double[] _gradient;
    private readonly double[] _slope;
    private readonly double[] _step;
    private readonly double[] _share;

    public BoxDescent(int axes)
    {
        (Axes, Stride) = (axes, (axes + Width - 1) / Width * Width);
        _matrix = new double[Stride * Stride];
        (_gradient, _slope) = (new double[Stride], new double[Stride]);
        (_step, _share) = (new double[Stride], new double[Stride]);
    }

    public int Axes { get; }

    /// <summary>Numbers of a row.</summary>
    public int Stride { get; }

    /// <summary>Half the slope of what is to be made least.</summary>
    public Span<double> Gradient => _gradient;

    /// <summary>How the gradient changes with each axis, <see cref="Stride"/> numbers a row; symmetric.</summary>
    public Span<double> Matrix => _matrix;

    /// <summary>What <see cref="Descend"/> found.</summary>
    public ReadOnlySpan<double> Step => _step.AsSpan(0, Axes);

    public void Clear()
    {
        Array.Clear(_matrix);
        Array.Clear(_gradient);
    }

    /// <summary>Adds the square of three differences.</summary>
    /// <param name="slopes">Three runs of <see cref="Stride"/> numbers, blank beyond the axes.</param>
    public void AddSquares(ReadOnlySpan<double> slopes, double weight, (double A, double B, double C) missed)
    {
        ref var matrix = ref MemoryMarshal.GetArrayDataReference(_matrix);
        ref var gradient = ref MemoryMarshal.GetArrayDataReference(_gradient);
        ref var slope = ref MemoryMarshal.GetReference(slopes[..(3 * Stride)]);
        unchecked
        {
            for (var j = 0; j < Stride; j += Width)
            {
                var a = Vector256.LoadUnsafe(ref slope, (nuint)j);
                var b = Vector256.LoadUnsafe(ref slope, (nuint)(Stride + j));
                var c = Vector256.LoadUnsafe(ref slope, (nuint)(2 * Stride + j));
                var w = Vector256.Create(weight);
                var add = w * a * missed.A + w * b * missed.B + w * c * missed.C;
                (Vector256.LoadUnsafe(ref gradient, (nuint)j) + add).StoreUnsafe(ref gradient, (nuint)j);
                for (var i = 0; i < Axes; i++)
                {
                    var product =
                        a * (weight * slopes[i])
                        + b * (weight * slopes[Stride + i])
                        + c * (weight * slopes[2 * Stride + i]);
                    var place = (nuint)(i * Stride + j);
                    (Vector256.LoadUnsafe(ref matrix, place) + product).StoreUnsafe(ref matrix, place);
                }
            }
        }
    }

    /// <summary>Finds the step; coordinates stay within 0 and <paramref name="most"/> of a point.</summary>
    /// <param name="damping">Added to the matrix's diagonal.</param>
    public void Descend(ReadOnlySpan<float> at, ReadOnlySpan<float> most, double damping)
    {
        Array.Clear(_step);
        _gradient.CopyTo(_slope, 0);
        for (var i = 0; i < Axes; i++)
            _share[i] = 1 / (_matrix[i * Stride + i] + damping + 1e-9);
        ref var matrix = ref MemoryMarshal.GetArrayDataReference(_matrix);
        ref var slope = ref MemoryMarshal.GetArrayDataReference(_slope);
        unchecked
        {
            for (var sweep = 0; sweep < Sweeps; sweep++)
            {
                var moved = 0.0;
                for (var i = 0; i < Axes; i++)
                {
                    var step = _step[i];
                    var next = step - (_slope[i] + damping * step) * _share[i];
                    next = Math.Min(Math.Max(next, -at[i]), most[i] - at[i]);
                    var by = next - step;
                    // The slope is carried along: a coordinate that stays where it is, as most do at a bound, costs nothing.
                    if (by == 0)
                        continue;
                    moved = Math.Max(moved, Math.Abs(by));
                    _step[i] = next;
                    for (var j = 0; j < Stride; j += Width)
                    {
                        var row = Vector256.LoadUnsafe(ref matrix, (nuint)(i * Stride + j));
                        var here = Vector256.LoadUnsafe(ref slope, (nuint)j) + row * by;
                        here.StoreUnsafe(ref slope, (nuint)j);
                    }
                }
                if (moved < Settled)
                    return;
            }
        }
    }

    /// <summary>What <see cref="AddSquares"/> adds to the gradient and to a row of the matrix at an axis.</summary>
    internal static (double Gradient, double Matrix) PlainSquares(
        ReadOnlySpan<double> slopes,
        int stride,
        int i,
        int j,
        double weight,
        (double A, double B, double C) missed
    ) =>
        (
            weight * (slopes[j] * missed.A + slopes[stride + j] * missed.B + slopes[2 * stride + j] * missed.C),
            weight
                * (
                    slopes[i] * slopes[j]
                    + slopes[stride + i] * slopes[stride + j]
                    + slopes[2 * stride + i] * slopes[2 * stride + j]
                )
        );

    /// <summary>The step as <see cref="Descend"/> takes it, from the definition: each coordinate in turn to its least.</summary>
    internal double[] PlainStep(ReadOnlySpan<float> at, ReadOnlySpan<float> most, double damping)
    {
        var step = new double[Axes];
        for (var sweep = 0; sweep < Sweeps; sweep++)
        {
            var moved = 0.0;
            for (var i = 0; i < Axes; i++)
            {
                var slope = _gradient[i] + damping * step[i];
                for (var j = 0; j < Axes; j++)
                    slope += _matrix[i * Stride + j] * step[j];
                var next = step[i] - slope / (_matrix[i * Stride + i] + damping + 1e-9);
                next = Math.Clamp(next, -at[i], most[i] - at[i]);
                moved = Math.Max(moved, Math.Abs(next - step[i]));
                step[i] = next;
            }
            if (moved < Settled)
                break;
        }
        return step;
    }
}
