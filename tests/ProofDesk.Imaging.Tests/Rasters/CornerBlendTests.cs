using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class CornerBlendTests
{
    private static CornerBlend Random(int axes, out float[] corners)
    {
        corners = [.. Enumerable.Range(0, CornerBlend.Lanes << axes).Select(i => (float)SeededNoise.Uniform(3, i))];
        return new(axes, corners);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(6)]
    public void Independent_axes_weigh_each_corner_by_the_product_of_its_shares(int axes)
    {
        var blend = Random(axes, out var corners);
        var at = Enumerable.Range(0, axes).Select(i => (float)SeededNoise.Uniform(9, i)).ToArray();
        var value = new float[CornerBlend.Lanes];
        blend.Independent(at, value, new float[CornerBlend.Lanes * axes], new float[blend.Scratch]);

        for (var lane = 0; lane < CornerBlend.Lanes; lane++)
        {
            var expected = 0.0;
            for (var code = 0; code < 1 << axes; code++)
            {
                var weight = 1.0;
                for (var i = 0; i < axes; i++)
                    weight *= (code >> i & 1) != 0 ? at[i] : 1 - at[i];
                expected += weight * corners[code * CornerBlend.Lanes + lane];
            }
            Assert.Equal(expected, value[lane], 5);
        }
    }

    // physics H2: (.3, .6, .5) dot on dot: all three .3, {2,3} .2, {2} .1, ground .4.
    [Fact]
    public void Nested_areas_lie_inside_each_other()
    {
        var blend = Random(3, out var corners);
        var value = new float[CornerBlend.Lanes];
        blend.Nested([0.3f, 0.6f, 0.5f], value, new float[CornerBlend.Lanes * 3]);

        float Corner(int code) => corners[code * CornerBlend.Lanes];
        Assert.Equal(0.3f * Corner(7) + 0.2f * Corner(6) + 0.1f * Corner(2) + 0.4f * Corner(0), value[0], 5);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Slopes_are_what_a_small_step_measures(bool nested)
    {
        const int Axes = 5;
        var blend = Random(Axes, out _);
        float[] at = [0.21f, 0.74f, 0.43f, 0.9f, 0.55f];
        var slopes = new float[CornerBlend.Lanes * Axes];
        var unused = new float[slopes.Length];
        float[] Value(float[] point, float[] gradient)
        {
            var value = new float[CornerBlend.Lanes];
            if (nested)
                blend.Nested(point, value, gradient);
            else
                blend.Independent(point, value, gradient, new float[blend.Scratch]);
            return value;
        }
        Value(at, slopes);
        for (var axis = 0; axis < Axes; axis++)
        {
            var (up, down) = ((float[])at.Clone(), (float[])at.Clone());
            (up[axis], down[axis]) = (up[axis] + 0.01f, down[axis] - 0.01f);
            var measured = (Value(up, unused)[2] - Value(down, unused)[2]) / 0.02f;
            Assert.Equal(measured, slopes[axis * CornerBlend.Lanes + 2], 3);
        }
    }

    // Coordinates at 0 and 1 choose a face of the cube; the vector path works on that face only.
    [Theory]
    [InlineData(0.3f, 0f, 1f, 0.8f, 0f, 0.25f)]
    [InlineData(0f, 0f, 0f, 0f, 0f, 0f)]
    [InlineData(1f, 1f, 1f, 1f, 1f, 1f)]
    [InlineData(0f, 1f, 0.5f, 1f, 0f, 1f)]
    [InlineData(0.1f, 0.9f, 0.5f, 0.6f, 0.7f, 0.2f)]
    public void The_vector_path_is_the_sum_over_all_corners(params float[] at)
    {
        var blend = Random(at.Length, out _);
        var (value, alone, nested) = (new float[8], new float[8], new float[8]);
        var slopes = new float[CornerBlend.Lanes * at.Length];
        blend.Independent(at, value, slopes, new float[blend.Scratch]);
        blend.Independent(at, alone, new float[blend.Scratch]);
        blend.Nested(at, nested, []);

        for (var lane = 0; lane < CornerBlend.Lanes; lane++)
        {
            Assert.Equal(blend.PlainAt(at, lane, nested: false), value[lane], 5);
            Assert.Equal(value[lane], alone[lane], 5);
            Assert.Equal(blend.PlainAt(at, lane, nested: true), nested[lane], 5);
            // Linear along each axis: the slope is the difference of its ends.
            for (var axis = 0; axis < at.Length; axis++)
            {
                var (low, high) = ((float[])at.Clone(), (float[])at.Clone());
                (low[axis], high[axis]) = (0, 1);
                var slope = blend.PlainAt(high, lane, nested: false) - blend.PlainAt(low, lane, nested: false);
                Assert.Equal(slope, slopes[axis * CornerBlend.Lanes + lane], 5);
            }
        }
    }

    [Fact]
    public void A_corner_is_asked_for_only_when_a_point_needs_it()
    {
        Random(12, out var corners);
        var asked = new List<int>();
        var blend = new CornerBlend(
            12,
            (corner, numbers) =>
            {
                asked.Add(corner);
                corners.AsSpan(corner * CornerBlend.Lanes, CornerBlend.Lanes).CopyTo(numbers);
            }
        );
        float[] at = [0, 1, 0, 0.5f, 0, 0, 0, 0, 0.25f, 0, 0, 0];
        var value = new float[CornerBlend.Lanes];
        blend.Independent(at, value, new float[blend.Scratch]);
        blend.Independent(at, value, new float[blend.Scratch]);

        Assert.Equal([2, 10, 258, 266], asked.Order());
        Assert.Equal(new CornerBlend(12, corners).PlainAt(at, 3, nested: false), value[3], 5);
    }
}
