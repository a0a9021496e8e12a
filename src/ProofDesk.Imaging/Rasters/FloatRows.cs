using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Sums and products of rows of floats, several at a time. Each element is computed by the same operations in the same
/// order whatever the vector width (no fused multiply-add), so the bytes do not depend on the machine.
/// </summary>
public static class FloatRows
{
    /// <summary>target = weight x source.</summary>
    public static void Scale(Span<float> target, ReadOnlySpan<float> source, float weight)
    {
        ref var t = ref MemoryMarshal.GetReference(target);
        ref var s = ref MemoryMarshal.GetReference(source[..target.Length]);
        var i = 0;
        for (; i <= target.Length - Vector256<float>.Count; i += Vector256<float>.Count)
            (Vector256.LoadUnsafe(ref s, (nuint)i) * weight).StoreUnsafe(ref t, (nuint)i);
        for (; i < target.Length; i++)
            target[i] = source[i] * weight;
    }

    /// <summary>target += weight x source.</summary>
    public static void AddScaled(Span<float> target, ReadOnlySpan<float> source, float weight)
    {
        ref var t = ref MemoryMarshal.GetReference(target);
        ref var s = ref MemoryMarshal.GetReference(source[..target.Length]);
        var i = 0;
        for (; i <= target.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            var scaled = Vector256.LoadUnsafe(ref s, (nuint)i) * weight;
            (Vector256.LoadUnsafe(ref t, (nuint)i) + scaled).StoreUnsafe(ref t, (nuint)i);
        }
        for (; i < target.Length; i++)
        {
            var scaled = source[i] * weight;
            target[i] += scaled;
        }
    }

    /// <summary>
    /// Weighted sum of a window that slides along the source: target[x] = sum of weights[i] source[x + i], and the
    /// weights are the same from both ends.
    /// </summary>
    public static void Slide(Span<float> target, ReadOnlySpan<float> source, ReadOnlySpan<float> weights)
    {
        var middle = weights.Length / 2;
        ref var t = ref MemoryMarshal.GetReference(target);
        ref var s = ref MemoryMarshal.GetReference(source[..(target.Length + weights.Length - 1)]);
        var x = 0;
        for (; x <= target.Length - Vector256<float>.Count; x += Vector256<float>.Count)
        {
            var sum = Vector256.LoadUnsafe(ref s, (nuint)(x + middle)) * weights[middle];
            for (var i = 1; i <= middle; i++)
            {
                var pair =
                    Vector256.LoadUnsafe(ref s, (nuint)(x + middle - i))
                    + Vector256.LoadUnsafe(ref s, (nuint)(x + middle + i));
                sum += pair * weights[middle + i];
            }
            sum.StoreUnsafe(ref t, (nuint)x);
        }
        for (; x < target.Length; x++)
        {
            var sum = source[x + middle] * weights[middle];
            for (var i = 1; i <= middle; i++)
            {
                var pair = source[x + middle - i] + source[x + middle + i];
                sum += pair * weights[middle + i];
            }
            target[x] = sum;
        }
    }

    /// <summary>target = (surface + root x spread x tint) x shade: what leaves the cloth.</summary>
    public static void Leave(
        Span<float> target,
        ReadOnlySpan<float> surface,
        ReadOnlySpan<float> root,
        ReadOnlySpan<float> spread,
        ReadOnlySpan<float> tint,
        ReadOnlySpan<float> shade
    )
    {
        var n = target.Length;
        ref var t = ref MemoryMarshal.GetReference(target);
        ref var a = ref MemoryMarshal.GetReference(surface[..n]);
        ref var b = ref MemoryMarshal.GetReference(root[..n]);
        ref var c = ref MemoryMarshal.GetReference(spread[..n]);
        ref var d = ref MemoryMarshal.GetReference(tint[..n]);
        ref var e = ref MemoryMarshal.GetReference(shade[..n]);
        var i = 0;
        for (; i <= n - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            var through = Vector256.LoadUnsafe(ref b, (nuint)i) * Vector256.LoadUnsafe(ref c, (nuint)i);
            through *= Vector256.LoadUnsafe(ref d, (nuint)i);
            var sum = Vector256.LoadUnsafe(ref a, (nuint)i) + through;
            (sum * Vector256.LoadUnsafe(ref e, (nuint)i)).StoreUnsafe(ref t, (nuint)i);
        }
        for (; i < n; i++)
        {
            var through = root[i] * spread[i];
            through *= tint[i];
            var sum = surface[i] + through;
            target[i] = sum * shade[i];
        }
    }
}
