using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Eight numbers given at each of the 2^n corners of a cube, blended at a point inside it, with the slope along each
/// axis. Multilinear: each axis is contracted in turn, which costs 2^n vector steps in all; the slope along an axis is the mean
/// difference across it, weighted by the axes that are contracted later. Nested: the point's coordinates are sorted and the
/// corners on the way from the smallest to none are weighted by their differences.
/// </summary>
public sealed class CornerBlend
{
    public const int Lanes = 8;

    private readonly float[] _corners;

    /// <param name="corners">Lanes numbers for each corner; bit i of a corner's index says that axis i is at 1.</param>
    public CornerBlend(int axes, float[] corners)
    {
        if (axes is < 1 or > 16 || corners.Length != Lanes << axes)
            throw new ArgumentException($"{axes} axes do not fit {corners.Length} numbers");
        (Axes, _corners) = (axes, corners);
    }

    public int Axes { get; }

    /// <summary>Numbers of scratch an evaluation needs.</summary>
    public int Scratch => (Lanes + 1) << Axes;

    /// <summary>Multilinear value (Lanes numbers) and slopes (Lanes numbers for each axis) at a point.</summary>
    public void Independent(ReadOnlySpan<float> at, Span<float> value, Span<float> slopes, Span<float> scratch)
    {
        var weights = scratch[..(1 << Axes)];
        ref var source = ref MemoryMarshal.GetArrayDataReference(_corners);
        ref var work = ref MemoryMarshal.GetReference(scratch[(1 << Axes)..]);
        unchecked
        {
            // Weights of the first i axes stand at [2^i, 2^(i+1)).
            weights[1 % weights.Length] = 1;
            for (var i = 0; i < Axes - 1; i++)
            {
                var size = 1 << i;
                var (inked, blank) = (at[i], 1 - at[i]);
                for (var c = 0; c < size; c++)
                {
                    weights[2 * size + c] = weights[size + c] * blank;
                    weights[3 * size + c] = weights[size + c] * inked;
                }
            }
            for (var i = Axes - 1; i >= 0; i--)
            {
                var size = 1 << i;
                var share = Vector256.Create(at[i]);
                var slope = Vector256<float>.Zero;
                for (var c = 0; c < size; c++)
                {
                    var low = Vector256.LoadUnsafe(ref source, (nuint)(c * Lanes));
                    var step = Vector256.LoadUnsafe(ref source, (nuint)((c + size) * Lanes)) - low;
                    slope += Vector256.Create(size == 1 ? 1 : weights[size + c]) * step;
                    (low + share * step).StoreUnsafe(ref work, (nuint)(c * Lanes));
                }
                slope.CopyTo(slopes[(i * Lanes)..]);
                source = ref work;
            }
            Vector256.LoadUnsafe(ref work).CopyTo(value);
        }
    }

    /// <summary>The same for areas that lie inside each other.</summary>
    public void Nested(ReadOnlySpan<float> at, Span<float> value, Span<float> slopes)
    {
        Span<int> order = stackalloc int[Axes];
        Span<float> keys = stackalloc float[Axes];
        for (var i = 0; i < Axes; i++)
            (order[i], keys[i]) = (i, at[i]);
        keys.Sort(order);
        var code = (1 << Axes) - 1;
        var below = 0f;
        var sum = Vector256<float>.Zero;
        var corner = Corner(code);
        for (var i = 0; i < Axes; i++)
        {
            sum += Vector256.Create(keys[i] - below) * corner;
            below = keys[i];
            code &= ~(1 << order[i]);
            var next = Corner(code);
            (corner - next).CopyTo(slopes[(order[i] * Lanes)..]);
            corner = next;
        }
        (sum + Vector256.Create(1 - below) * corner).CopyTo(value);
    }

    private Vector256<float> Corner(int code) => Vector256.Create(_corners.AsSpan(code * Lanes, Lanes));
}
