using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// A table over three inputs with up to eight outputs, read by tetrahedral interpolation (Kasson, Nin, Plouffe and Hafner 1995,
/// "Performing color space conversions with three-dimensional linear interpolation", J. Electronic Imaging 4:226): of
/// a cell's eight corners four are used, those on the way from the lowest to the highest along the largest fraction
/// first, so grey stays on the diagonal. Whole numbers throughout. <see cref="PlainAt"/> is the judge of the vector path.
/// </summary>
public sealed class TetrahedralTable
{
    public const int Lanes = 8;

    /// <summary>A cell is cut into so many steps.</summary>
    public const int CellSteps = 256;

    // An output of 1.0 at a node: 255 x 64, so that a result is the sum of weights x nodes >> 14.
    private const int NodeScale = 64;
    private const int Shift = 14;

    private readonly int[] _nodes;

    /// <param name="size">Nodes along each input.</param>
    /// <param name="outputs">Outputs, at most eight.</param>
    /// <param name="values">0..1; index ((r x size + g) x size + b) x outputs + output.</param>
    public TetrahedralTable(int size, int outputs, float[] values)
    {
        if (size < 2 || outputs is < 1 or > Lanes || values.Length != size * size * size * outputs)
            throw new ArgumentException(
                $"{size} nodes a side and {outputs} outputs do not fit {values.Length} numbers; outputs are 1 to {Lanes}"
            );
        (Size, Outputs) = (size, outputs);
        _nodes = new int[size * size * size * Lanes];
        for (var node = 0; node < size * size * size; node++)
        for (var i = 0; i < outputs; i++)
            _nodes[node * Lanes + i] = (int)MathF.Round(Math.Clamp(values[node * outputs + i], 0, 1) * 255 * NodeScale);
    }

    public int Size { get; }
    public int Outputs { get; }

    /// <summary>The largest position along an input.</summary>
    public int Last => (Size - 1) * CellSteps;

    /// <summary>
    /// Outputs (0..255) of a run of pixels: positions along the three inputs as r, g, b, each 0..<see cref="Last"/>; the outputs of a pixel
    /// stand side by side, <see cref="Lanes"/> bytes each.
    /// </summary>
    public void Row(ReadOnlySpan<ushort> positions, Span<byte> outputs)
    {
        var count = positions.Length / 3;
        if (outputs.Length < count * Lanes)
            throw new ArgumentException($"{count} pixels need {count * Lanes} bytes, {outputs.Length} given");
        ref var nodes = ref MemoryMarshal.GetArrayDataReference(_nodes);
        ref var target = ref MemoryMarshal.GetReference(outputs);
        var half = Vector256.Create(1 << (Shift - 1));
        unchecked
        {
            var (lastR, lastG, lastB) = (-1, -1, -1);
            var packed = 0UL;
            for (var x = 0; x < count; x++)
            {
                int r = positions[3 * x],
                    g = positions[3 * x + 1],
                    b = positions[3 * x + 2];
                if (r != lastR || g != lastG || b != lastB)
                {
                    (lastR, lastG, lastB) = (r, g, b);
                    var (low, first, second, high, w0, w1, w2, w3) = Corners(r, g, b);
                    var sum =
                        half
                        + Vector256.LoadUnsafe(ref nodes, (nuint)low) * Vector256.Create(w0)
                        + Vector256.LoadUnsafe(ref nodes, (nuint)first) * Vector256.Create(w1)
                        + Vector256.LoadUnsafe(ref nodes, (nuint)second) * Vector256.Create(w2)
                        + Vector256.LoadUnsafe(ref nodes, (nuint)high) * Vector256.Create(w3);
                    var words = Vector256.Narrow(Vector256.ShiftRightLogical(sum, Shift).AsUInt32(), default);
                    packed = Vector256.Narrow(words, default).AsUInt64().ToScalar();
                }
                System.Runtime.CompilerServices.Unsafe.WriteUnaligned(
                    ref System.Runtime.CompilerServices.Unsafe.Add(ref target, x * Lanes),
                    packed
                );
            }
        }
    }

    /// <summary>One output of one pixel.</summary>
    internal byte PlainAt(int r, int g, int b, int output)
    {
        var (low, first, second, high, w0, w1, w2, w3) = Corners(r, g, b);
        var sum =
            w0 * _nodes[low + output]
            + w1 * _nodes[first + output]
            + w2 * _nodes[second + output]
            + w3 * _nodes[high + output];
        return (byte)((sum + (1 << (Shift - 1))) >> Shift);
    }

    private (int Low, int First, int Second, int High, int W0, int W1, int W2, int W3) Corners(int r, int g, int b)
    {
        unchecked
        {
            var (stepG, stepR) = (Size * Lanes, Size * Size * Lanes);
            var (cellR, cellG, cellB) = (Cell(r), Cell(g), Cell(b));
            var (fr, fg, fb) = (r - cellR * CellSteps, g - cellG * CellSteps, b - cellB * CellSteps);
            var low = cellR * stepR + cellG * stepG + cellB * Lanes;
            var high = low + stepR + stepG + Lanes;
            var (big, middle, small) = (fr, fg, fb);
            var (toBig, fromSmall) = (stepR, Lanes);
            if (fr >= fg)
            {
                if (fg < fb)
                {
                    if (fr >= fb)
                        (middle, small, fromSmall) = (fb, fg, stepG);
                    else
                        (big, middle, small, toBig, fromSmall) = (fb, fr, fg, Lanes, stepG);
                }
            }
            else if (fr >= fb)
                (big, middle, toBig) = (fg, fr, stepG);
            else if (fg >= fb)
                (big, middle, small, toBig, fromSmall) = (fg, fb, fr, stepG, stepR);
            else
                (big, small, toBig, fromSmall) = (fb, fr, Lanes, stepR);
            return (low, low + toBig, high - fromSmall, high, CellSteps - big, big - middle, middle - small, small);
        }
    }

    private int Cell(int position) => Math.Min(position / CellSteps, Size - 2);
}
