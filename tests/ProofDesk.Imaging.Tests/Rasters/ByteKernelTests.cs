using CsCheck;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class ByteKernelTests
{
    private static readonly Gen<BytePlane> Planes =
        from width in Gen.Int[1, 70]
        from height in Gen.Int[1, 20]
        from pixels in Gen.Byte.Array[width * height]
        select new BytePlane(width, height, pixels);

    [Fact]
    public void Distances_are_those_to_the_nearest_pixel()
    {
        var gen =
            from plane in Planes
            from threshold in Gen.Int[120, 255]
            from limit in Gen.Int[0, 30]
            select (plane, (byte)threshold, limit == 30 ? float.PositiveInfinity : limit + 0.5f);

        gen.Sample(
            (plane, threshold, limit) =>
            {
                AssertDistances(plane, p => p >= threshold, limit, DistanceField.ToInk(plane, threshold, limit));
                AssertDistances(plane, p => p < threshold, limit, DistanceField.ToBlank(plane, threshold, limit));
            },
            iter: 80
        );
    }

    [Fact]
    public void Without_any_ink_every_distance_is_the_limit()
    {
        var blank = new BytePlane(40, 3);

        Assert.All(DistanceField.ToInk(blank), d => Assert.Equal(float.PositiveInfinity, d));
        Assert.All(DistanceField.ToInk(blank, limit: 7), d => Assert.Equal(7, d));
    }

    private static void AssertDistances(BytePlane plane, Func<byte, bool> isTarget, float limit, float[] distances)
    {
        for (var y = 0; y < plane.Height; y++)
        for (var x = 0; x < plane.Width; x++)
        {
            var nearest = double.PositiveInfinity;
            for (var v = 0; v < plane.Height; v++)
            for (var u = 0; u < plane.Width; u++)
                if (isTarget(plane[u, v]))
                    nearest = Math.Min(nearest, Math.Sqrt((u - x) * (u - x) + (v - y) * (v - y)));
            Assert.Equal(Math.Min((float)nearest, limit), distances[y * plane.Width + x], 5e-6f);
        }
    }

    [Fact]
    public void Shrinking_weighs_each_pixel_by_the_area_it_covers()
    {
        var gen =
            from plane in Planes
            from width in Gen.Int[1, plane.Width]
            from height in Gen.Int[1, plane.Height]
            select (plane, width, height);

        gen.Sample(
            (plane, width, height) =>
            {
                var small = Resample.Shrink(plane, width, height);

                for (var y = 0; y < height; y++)
                for (var x = 0; x < width; x++)
                    Assert.Equal(AreaMean(plane, x, y, width, height), small[x, y], 0.5 + 1e-6);
            },
            iter: 60
        );
    }

    private static double AreaMean(BytePlane plane, int x, int y, int width, int height)
    {
        double sum = 0,
            area = 0;
        for (var v = 0; v < plane.Height; v++)
        for (var u = 0; u < plane.Width; u++)
        {
            var weight =
                Overlap(u, x * (double)plane.Width / width, (x + 1) * (double)plane.Width / width)
                * Overlap(v, y * (double)plane.Height / height, (y + 1) * (double)plane.Height / height);
            sum += weight * plane[u, v];
            area += weight;
        }
        return sum / area;

        static double Overlap(int pixel, double from, double to) =>
            Math.Max(0, Math.Min(pixel + 1, to) - Math.Max(pixel, from));
    }

    [Fact]
    public void Enlarging_keeps_flat_tones_and_passes_through_the_pixels()
    {
        var plane = new BytePlane(3, 1, [10, 200, 90]);

        // An odd factor puts a new pixel on the centre of each old one.
        var large = Resample.To(plane, 15, 5);

        Assert.Equal((10, 200, 90), (large[2, 2], large[7, 2], large[12, 2]));
        Assert.All(Resample.To(new(2, 2, [77, 77, 77, 77]), 31, 17).Pixels, p => Assert.Equal(77, p));
    }

    [Fact]
    public void A_blur_is_the_weighted_sum_of_the_neighbours()
    {
        var source = Enumerable.Range(0, 60).Select(i => (float)(i * i % 17)).ToArray();
        var weights = GaussianBlur.Gaussian(1.3);

        var blurred = GaussianBlur.Blur(source, 10, 6, 1.3);

        Assert.Equal(1, weights.Sum(w => (double)w), 12);
        for (var y = 0; y < 6; y++)
        for (var x = 0; x < 10; x++)
        {
            double sum = 0;
            for (var j = -5; j <= 5; j++)
            for (var i = -5; i <= 5; i++)
                sum +=
                    weights[i + 5]
                    * (double)weights[j + 5]
                    * source[Math.Clamp(y + j, 0, 5) * 10 + Math.Clamp(x + i, 0, 9)];
            Assert.Equal(sum, blurred[y * 10 + x], 1e-4);
        }
    }

    [Fact]
    public void A_blurred_point_has_the_variance_asked_for()
    {
        var point = new float[101];
        point[50] = 1;

        var blurred = GaussianBlur.Blur(point, 101, 1, 4);

        Assert.Equal(16, blurred.Select((v, x) => v * (x - 50.0) * (x - 50)).Sum(), 0.15);
    }

    [Fact]
    public void Flat_planes_stay_flat_under_every_blur()
    {
        var plane = new BytePlane(33, 9, [.. Enumerable.Repeat((byte)201, 33 * 9)]);

        Assert.Equal(plane.Pixels, GaussianBlur.Blur(plane, 3).Pixels);
        Assert.Equal(plane.Pixels, GaussianBlur.Box(plane, 4).Pixels);
    }
}
