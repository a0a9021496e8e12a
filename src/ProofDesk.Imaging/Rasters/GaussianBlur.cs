using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Separable blurs. Beyond the border the nearest pixel repeats. Weights are whole multiples of 1/65536 that sum to
/// one, and each pixel adds its neighbours in the same order on every machine, so the same input gives the same bytes.
/// </summary>
public static class GaussianBlur
{
    /// <summary>Blurs a grid of floats (row by row) by a Gaussian of <paramref name="sigmaPx"/>, into a new one.</summary>
    public static float[] Blur(float[] source, int width, int height, double sigmaPx) =>
        Convolve(source, width, height, Gaussian(sigmaPx));

    /// <summary>Blurs a byte plane into a new one, rounded.</summary>
    public static BytePlane Blur(BytePlane source, double sigmaPx) =>
        ToBytes(Blur(ToFloats(source), source.Width, source.Height, sigmaPx), source.Width, source.Height);

    /// <summary>Mean over a square of 2 x radius + 1 pixels.</summary>
    public static float[] Box(float[] source, int width, int height, int radius)
    {
        var weights = new float[2 * radius + 1];
        weights.AsSpan().Fill(1f / weights.Length);
        return Convolve(source, width, height, weights);
    }

    /// <summary>Mean over a square of 2 x radius + 1 pixels, rounded.</summary>
    public static BytePlane Box(BytePlane source, int radius) =>
        ToBytes(Box(ToFloats(source), source.Width, source.Height, radius), source.Width, source.Height);

    /// <summary>Weights out to 3.5 sigma.</summary>
    internal static float[] Gaussian(double sigmaPx)
    {
        if (!(sigmaPx >= 0) || sigmaPx > 4096)
            throw new ArgumentException($"a blur is 0 to 4096 px; {sigmaPx} given");
        var radius = (int)Math.Ceiling(3.5 * sigmaPx);
        var exact = new double[2 * radius + 1];
        for (var i = -radius; i <= radius; i++)
            exact[i + radius] = radius == 0 ? 1 : Math.Exp(-i * i / (2 * sigmaPx * sigmaPx));
        var sum = exact.Sum();
        var parts = Array.ConvertAll(exact, w => (int)Math.Round(w / sum * 65536));
        parts[radius] += 65536 - parts.Sum();
        return Array.ConvertAll(parts, p => p / 65536f);
    }

    private static float[] Convolve(float[] source, int width, int height, float[] weights)
    {
        if (source.LongLength != (long)width * height)
            throw new ArgumentException(
                $"{width} x {height} needs {(long)width * height} values; {source.LongLength} given"
            );
        var radius = weights.Length / 2;
        var across = new float[source.Length];
        RowLoop.RunBands(
            height,
            Math.Max(1, (1 << 16) / width),
            (top, count) =>
            {
                var padded = new float[width + 2 * radius];
                for (var y = top; y < top + count; y++)
                {
                    var row = source.AsSpan(y * width, width);
                    padded.AsSpan(0, radius).Fill(row[0]);
                    row.CopyTo(padded.AsSpan(radius));
                    padded.AsSpan(radius + width).Fill(row[^1]);
                    Sum(padded, 0, 1, weights, across.AsSpan(y * width, width));
                }
            }
        );
        var down = new float[source.Length];
        RowLoop.Run(
            height,
            width * 4,
            y =>
            {
                var target = down.AsSpan(y * width, width);
                // Rows near the border repeat the first or last one: those are added one by one.
                if (y >= radius && y + radius < height)
                    Sum(across, (y - radius) * width, width, weights, target);
                else
                    for (var i = 0; i < weights.Length; i++)
                    {
                        var from = Math.Clamp(y + i - radius, 0, height - 1);
                        AddScaled(target, across.AsSpan(from * width, width), weights[i]);
                    }
            }
        );
        return down;
    }

    /// <summary>
    /// target[x] = the sum of weight i x source[first + i step + x], added in the order of i like <see cref="AddScaled"/>,
    /// but 32 sums at a time stay in registers.
    /// </summary>
    private static void Sum(ReadOnlySpan<float> source, int first, int step, float[] weights, Span<float> target)
    {
        source = source.Slice(first, (weights.Length - 1) * step + target.Length);
        ref var s = ref MemoryMarshal.GetReference(source);
        ref var t = ref MemoryMarshal.GetReference(target);
        var x = 0;
        for (; x <= target.Length - 4 * Vector256<float>.Count; x += 4 * Vector256<float>.Count)
        {
            var (a, b, c, d) = (
                Vector256<float>.Zero,
                Vector256<float>.Zero,
                Vector256<float>.Zero,
                Vector256<float>.Zero
            );
            var at = (nuint)x;
            foreach (var weight in weights)
            {
                var w = Vector256.Create(weight);
                a += Vector256.LoadUnsafe(ref s, at) * w;
                b += Vector256.LoadUnsafe(ref s, at + 8) * w;
                c += Vector256.LoadUnsafe(ref s, at + 16) * w;
                d += Vector256.LoadUnsafe(ref s, at + 24) * w;
                at += (nuint)step;
            }
            a.StoreUnsafe(ref t, (nuint)x);
            b.StoreUnsafe(ref t, (nuint)x + 8);
            c.StoreUnsafe(ref t, (nuint)x + 16);
            d.StoreUnsafe(ref t, (nuint)x + 24);
        }
        for (; x < target.Length; x++)
        {
            var sum = 0f;
            for (var i = 0; i < weights.Length; i++)
                sum += source[i * step + x] * weights[i];
            target[x] = sum;
        }
    }

    /// <summary>target += weight x source. Multiply and add are two roundings on purpose: the same on every machine.</summary>
    private static void AddScaled(Span<float> target, ReadOnlySpan<float> source, float weight)
    {
        ref var t = ref MemoryMarshal.GetReference(target);
        ref var s = ref MemoryMarshal.GetReference(source);
        var x = 0;
        for (; x <= target.Length - Vector256<float>.Count; x += Vector256<float>.Count)
        {
            var sum =
                Vector256.LoadUnsafe(ref t, (nuint)x)
                + Vector256.LoadUnsafe(ref s, (nuint)x) * Vector256.Create(weight);
            sum.StoreUnsafe(ref t, (nuint)x);
        }
        for (; x < target.Length; x++)
            target[x] += source[x] * weight;
    }

    private static float[] ToFloats(BytePlane plane)
    {
        var floats = new float[plane.Pixels.Length];
        for (var i = 0; i < floats.Length; i++)
            floats[i] = plane.Pixels[i];
        return floats;
    }

    private static BytePlane ToBytes(float[] floats, int width, int height)
    {
        var plane = new BytePlane(width, height);
        for (var i = 0; i < floats.Length; i++)
            plane.Pixels[i] = (byte)Math.Clamp((int)MathF.Round(floats[i]), 0, 255);
        return plane;
    }
}
