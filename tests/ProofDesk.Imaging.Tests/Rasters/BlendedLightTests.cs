using System.Runtime.Intrinsics;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class BlendedLightTests
{
    private const int Axes = 5;
    private const int Stride = 8;

    private static float[] Numbers(int seed, double scale, double offset) =>
        [
            .. Enumerable
                .Range(0, CornerBlend.Lanes * Axes)
                .Select(i => (float)(offset + scale * SeededNoise.Uniform((uint)seed, i))),
        ];

    [Theory]
    [InlineData(0)]
    [InlineData(0.4)]
    [InlineData(1)]
    public void The_vector_path_is_the_plain_one(double share)
    {
        var value = Numbers(1, 0.8, 0.01)[..CornerBlend.Lanes];
        var slopes = Numbers(2, 1.6, -0.8);
        var seenSlopes = new double[3 * Stride];

        var alone = BlendedLight.Seen(value, share, 100);
        var seen = BlendedLight.Seen(value, slopes, share, 100, seenSlopes, Stride);

        Assert.Equal(alone, seen);
        Same(BlendedLight.PlainAt(value, [], share, 100), seen);
        for (var axis = 0; axis < Axes; axis++)
            Same(
                BlendedLight.PlainAt(value, slopes.AsSpan(axis * CornerBlend.Lanes, CornerBlend.Lanes), share, 100),
                (seenSlopes[axis], seenSlopes[Stride + axis], seenSlopes[2 * Stride + axis])
            );

        static void Same((double L, double A, double B) expected, (double L, double A, double B) actual)
        {
            Assert.Equal(expected.L, actual.L, 1e-8);
            Assert.Equal(expected.A, actual.A, 1e-8);
            Assert.Equal(expected.B, actual.B, 1e-8);
        }
    }

    [Fact]
    public void Light_that_is_not_there_has_a_colour()
    {
        var seen = BlendedLight.Seen(new float[CornerBlend.Lanes], 0.5, 100);

        Assert.InRange(seen.L, 0.5, 1.5);
    }

    [Fact]
    public void A_cube_root_is_right_to_the_last_digits()
    {
        for (var i = -60; i <= 40; i++)
        {
            var x = Math.Pow(1.3, i) * 1.7;
            var root = BlendedLight.CubeRoot(Vector256.Create(x))[2];

            Assert.Equal(1, root / Math.Cbrt(x), 1e-13);
        }
    }
}
