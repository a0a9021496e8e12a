using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Eight numbers given at each of the 2^n corners of a cube, blended at a point inside it, with the slope along each
/// axis. Multilinear: only axes strictly between 0 and 1 take part, the others choose a face of the cube, so the cost is 2^k
/// for k such axes and as much again for the slope along each other one. Nested: the point's coordinates are sorted
/// and the corners on the way from the smallest to none are weighted by their differences. <see cref="PlainAt"/> is the judge of
/// the vector path.
/// </summary>
public sealed class CornerBlend
{
    public const int Lanes = 8;

    private readonly float[] _corners;
    private readonly CornerFill? _fill;

    /// <summary>Writes the <see cref="Lanes"/> numbers of a corner; bit i of its index says that axis i is at 1.</summary>
    public delegate void CornerFill(int corner, Span<float> numbers);

    /// <param name="corners">Lanes numbers for each corner; bit i of a corner's index says that axis i is at 1.</param>
    public CornerBlend(int axes, float[] corners)
    {
        if (axes is < 1 or > 16 || corners.Length != Lanes << axes)
            throw new ArgumentException($"{axes} axes do not fit {corners.Length} numbers");
        (Axes, _corners) = (axes, corners);
    }

    /// <summary>
    /// Corners are asked for when a point first needs them: of twelve axes' 4096 most never are. Until then they are
    /// not numbers, which carries into whatever is made of them, so that nothing has to be asked while blending.
    /// </summary>
    /// <param name="fill">Gives the same finite numbers each time; may be asked from several threads, also twice for one corner.</param>
    public CornerBlend(int axes, CornerFill fill)
        : this(axes, new float[Lanes << axes])
    {
        _fill = fill;
        _corners.AsSpan().Fill(float.NaN);
    }

    public int Axes { get; }

    /// <summary>Numbers of scratch an evaluation needs.</summary>
    public int Scratch => (Lanes + 2) << Axes;

    /// <summary>Multilinear value alone (Lanes numbers).</summary>
    public void Independent(ReadOnlySpan<float> at, Span<float> value, Span<float> scratch)
    {
        Span<int> within = stackalloc int[Axes];
        var (inside, _) = Face(at, within);
        within = within[..inside];
        var offsets = Offsets(at, within, scratch);
        var seen = Seen(at, within, offsets, scratch);
        if (!Known(seen))
        {
            Know(offsets, 0);
            seen = Seen(at, within, offsets, scratch);
        }
        seen.CopyTo(value);
    }

    private Vector256<float> Seen(
        ReadOnlySpan<float> at,
        ReadOnlySpan<int> within,
        ReadOnlySpan<int> offsets,
        Span<float> scratch
    )
    {
        ref var source = ref MemoryMarshal.GetArrayDataReference(_corners);
        ref var work = ref MemoryMarshal.GetReference(scratch[(2 << Axes)..]);
        unchecked
        {
            if (within.Length == 0)
                return Vector256.LoadUnsafe(ref source, (nuint)offsets[0]);
            var size = 1 << (within.Length - 1);
            var share = Vector256.Create(at[within[^1]]);
            for (var c = 0; c < size; c++)
            {
                var low = Vector256.LoadUnsafe(ref source, (nuint)offsets[c]);
                var high = Vector256.LoadUnsafe(ref source, (nuint)offsets[c + size]);
                (low + share * (high - low)).StoreUnsafe(ref work, (nuint)(c * Lanes));
            }
            for (var i = within.Length - 2; i >= 0; i--)
            {
                size = 1 << i;
                share = Vector256.Create(at[within[i]]);
                for (var c = 0; c < size; c++)
                {
                    var low = Vector256.LoadUnsafe(ref work, (nuint)(c * Lanes));
                    var high = Vector256.LoadUnsafe(ref work, (nuint)((c + size) * Lanes));
                    (low + share * (high - low)).StoreUnsafe(ref work, (nuint)(c * Lanes));
                }
            }
            return Vector256.LoadUnsafe(ref work);
        }
    }

    /// <summary>Multilinear value (Lanes numbers) and slopes (Lanes numbers for each axis) at a point.</summary>
    public void Independent(ReadOnlySpan<float> at, Span<float> value, Span<float> slopes, Span<float> scratch)
    {
        Span<int> within = stackalloc int[Axes];
        var (inside, rest) = Face(at, within);
        within = within[..inside];
        var offsets = Offsets(at, within, scratch);
        var weights = scratch.Slice(1 << Axes, 1 << Axes);
        Weigh(at, within, weights);
        if (
            Inside(at, within, offsets, weights, value, slopes, scratch)
            && Outside(at, within, rest, offsets, weights, value, slopes)
        )
            return;
        Know(offsets, 0);
        for (var left = rest; left != 0; left &= left - 1)
            Know(offsets, Lanes << BitOperations.TrailingZeroCount(left));
        Inside(at, within, offsets, weights, value, slopes, scratch);
        Outside(at, within, rest, offsets, weights, value, slopes);
    }

    /// <summary>Value, and slopes along the axes inside; false where a corner was not known.</summary>
    private bool Inside(
        ReadOnlySpan<float> at,
        ReadOnlySpan<int> within,
        ReadOnlySpan<int> offsets,
        ReadOnlySpan<float> weights,
        Span<float> value,
        Span<float> slopes,
        Span<float> scratch
    )
    {
        ref var source = ref MemoryMarshal.GetArrayDataReference(_corners);
        ref var work = ref MemoryMarshal.GetReference(scratch[(2 << Axes)..]);
        unchecked
        {
            if (within.Length == 0)
            {
                var alone = Vector256.LoadUnsafe(ref source, (nuint)offsets[0]);
                alone.CopyTo(value);
                return Known(alone);
            }
            // Weights of the axes below an axis: what they sum over it is the whole weight of its lower half.
            var size = 1 << (within.Length - 1);
            var share = Vector256.Create(at[within[^1]]);
            var slope = Vector256<float>.Zero;
            for (var c = 0; c < size; c++)
            {
                var low = Vector256.LoadUnsafe(ref source, (nuint)offsets[c]);
                var step = Vector256.LoadUnsafe(ref source, (nuint)offsets[c + size]) - low;
                slope += Vector256.Create(weights[size + c]) * step;
                (low + share * step).StoreUnsafe(ref work, (nuint)(c * Lanes));
            }
            slope.CopyTo(slopes[(within[^1] * Lanes)..]);
            for (var i = within.Length - 2; i >= 0; i--)
            {
                size = 1 << i;
                share = Vector256.Create(at[within[i]]);
                slope = Vector256<float>.Zero;
                for (var c = 0; c < size; c++)
                {
                    var low = Vector256.LoadUnsafe(ref work, (nuint)(c * Lanes));
                    var step = Vector256.LoadUnsafe(ref work, (nuint)((c + size) * Lanes)) - low;
                    slope += Vector256.Create(weights[size + c]) * step;
                    (low + share * step).StoreUnsafe(ref work, (nuint)(c * Lanes));
                }
                slope.CopyTo(slopes[(within[i] * Lanes)..]);
            }
            var seen = Vector256.LoadUnsafe(ref work);
            seen.CopyTo(value);
            return Known(seen);
        }
    }

    /// <summary>Slopes along the axes that choose the face; false where a corner was not known.</summary>
    private bool Outside(
        ReadOnlySpan<float> at,
        ReadOnlySpan<int> within,
        int rest,
        ReadOnlySpan<int> offsets,
        ReadOnlySpan<float> weights,
        ReadOnlySpan<float> value,
        Span<float> slopes
    )
    {
        ref var source = ref MemoryMarshal.GetArrayDataReference(_corners);
        var seen = Vector256.Create(value);
        var all = Vector256<float>.Zero;
        // The weights of the last axis are not kept: half of them is one, the other half the other share.
        var half = offsets.Length >> 1;
        var share = Vector256.Create(half == 0 ? 0 : at[within[^1]]);
        unchecked
        {
            for (var left = rest; left != 0; left &= left - 1)
            {
                var axis = BitOperations.TrailingZeroCount(left);
                var flip = Lanes << axis;
                var other = Vector256<float>.Zero;
                if (half == 0)
                    other = Vector256.LoadUnsafe(ref source, (nuint)(offsets[0] ^ flip));
                else
                {
                    var (low, high) = (Vector256<float>.Zero, Vector256<float>.Zero);
                    for (var c = 0; c < half; c++)
                    {
                        var weight = Vector256.Create(weights[half + c]);
                        low += weight * Vector256.LoadUnsafe(ref source, (nuint)(offsets[c] ^ flip));
                        high += weight * Vector256.LoadUnsafe(ref source, (nuint)(offsets[c + half] ^ flip));
                    }
                    other = low + share * (high - low);
                }
                all += other;
                (at[axis] >= 1 ? seen - other : other - seen).CopyTo(slopes[(axis * Lanes)..]);
            }
        }
        return Known(all);
    }

    /// <summary>The same for areas that lie inside each other; without slopes where none are asked for.</summary>
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
            if (!slopes.IsEmpty)
                (corner - next).CopyTo(slopes[(order[i] * Lanes)..]);
            corner = next;
        }
        (sum + Vector256.Create(1 - below) * corner).CopyTo(value);
    }

    /// <summary>One lane of the multilinear value, corner by corner; of the nested one where asked.</summary>
    internal double PlainAt(ReadOnlySpan<float> at, int lane, bool nested)
    {
        var sum = 0.0;
        for (var code = 0; code < 1 << Axes; code++)
        {
            if (!Known(Vector256.Create(_corners.AsSpan(code * Lanes, Lanes))))
                Know(code);
            var (inked, blank, product) = (1.0, 0.0, 1.0);
            for (var i = 0; i < Axes; i++)
            {
                if ((code >> i & 1) != 0)
                    (inked, product) = (Math.Min(inked, at[i]), product * at[i]);
                else
                    (blank, product) = (Math.Max(blank, at[i]), product * (1.0 - at[i]));
            }
            sum += (nested ? Math.Max(0, inked - blank) : product) * _corners[code * Lanes + lane];
        }
        return sum;
    }

    /// <summary>Axes strictly inside, how many, and the others as bits.</summary>
    private (int Inside, int Others) Face(ReadOnlySpan<float> at, Span<int> within)
    {
        var (inside, rest) = (0, 0);
        for (var i = 0; i < Axes; i++)
            if (at[i] is > 0 and < 1)
                within[inside++] = i;
            else
                rest |= 1 << i;
        return (inside, rest);
    }

    /// <summary>Where the corners of the face stand, lowest inside axis in the lowest bit.</summary>
    private Span<int> Offsets(ReadOnlySpan<float> at, ReadOnlySpan<int> within, Span<float> scratch)
    {
        var offsets = MemoryMarshal.Cast<float, int>(scratch)[..(1 << Axes)];
        var start = 0;
        for (var i = 0; i < Axes; i++)
            if (at[i] >= 1)
                start |= Lanes << i;
        offsets[0] = start;
        for (var i = 0; i < within.Length; i++)
        {
            var (size, bit) = (1 << i, Lanes << within[i]);
            for (var c = 0; c < size; c++)
                offsets[size + c] = offsets[c] | bit;
        }
        return offsets[..(1 << within.Length)];
    }

    /// <summary>A thread that comes in between sees some lanes of a corner and not others: each must be a number.</summary>
    private bool Known(Vector256<float> numbers) => _fill is null || Vector256.EqualsAll(numbers, numbers);

    private void Know(ReadOnlySpan<int> offsets, int flip)
    {
        foreach (var offset in offsets)
            Know((offset ^ flip) / Lanes);
    }

    private void Know(int corner)
    {
        var place = _corners.AsSpan(corner * Lanes, Lanes);
        if (Known(Vector256.Create(place)))
            return;
        // Aside first: the numbers of a corner are written once and never other ones.
        Span<float> numbers = stackalloc float[Lanes];
        _fill!(corner, numbers);
        numbers.CopyTo(place);
    }

    /// <summary>Weights of the first i axes stand at [2^i, 2^(i+1)); those of all of them are not needed.</summary>
    private static void Weigh(ReadOnlySpan<float> at, ReadOnlySpan<int> within, Span<float> weights)
    {
        weights[1] = 1;
        for (var i = 0; i < within.Length - 1; i++)
        {
            var size = 1 << i;
            var (inked, blank) = (at[within[i]], 1 - at[within[i]]);
            for (var c = 0; c < size; c++)
            {
                weights[2 * size + c] = weights[size + c] * blank;
                weights[3 * size + c] = weights[size + c] * inked;
            }
        }
    }

    private Vector256<float> Corner(int code)
    {
        var numbers = Vector256.Create(_corners.AsSpan(code * Lanes, Lanes));
        if (Known(numbers))
            return numbers;
        Know(code);
        return Vector256.Create(_corners.AsSpan(code * Lanes, Lanes));
    }
}
