using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class BoxDescentTests
{
    private static double[] Slopes(BoxDescent descent, uint seed)
    {
        var slopes = new double[3 * descent.Stride];
        for (var run = 0; run < 3; run++)
        for (var i = 0; i < descent.Axes; i++)
            slopes[run * descent.Stride + i] = 40 * (SeededNoise.Uniform(seed, run, i) - 0.5);
        return slopes;
    }

    [Theory]
    [InlineData(1)]
    [InlineData(4)]
    [InlineData(7)]
    [InlineData(12)]
    public void Squares_are_added_as_they_are_defined(int axes)
    {
        var descent = new BoxDescent(axes);
        var slopes = Slopes(descent, 3);
        descent.AddSquares(slopes, 0.5, (2, -1, 3));
        descent.AddSquares(slopes, 1, (2, -1, 3));

        for (var i = 0; i < axes; i++)
        for (var j = 0; j < axes; j++)
        {
            var (gradient, matrix) = BoxDescent.PlainSquares(slopes, descent.Stride, i, j, 1.5, (2, -1, 3));
            Assert.Equal(gradient, descent.Gradient[j], 1e-9);
            Assert.Equal(matrix, descent.Matrix[i * descent.Stride + j], 1e-9);
        }
    }

    [Theory]
    [InlineData(2, 1e-3)]
    [InlineData(5, 1)]
    [InlineData(8, 1)]
    [InlineData(12, 30)]
    public void The_vector_path_takes_the_plain_step_and_stays_in_the_box(int axes, double damping)
    {
        var descent = new BoxDescent(axes);
        for (uint seed = 0; seed < 20; seed++)
        {
            descent.Clear();
            descent.AddSquares(Slopes(descent, seed), 1, (5, 4, -6));
            float[] at = [.. Enumerable.Range(0, axes).Select(i => (float)SeededNoise.Uniform(99, i))];
            float[] most = [.. Enumerable.Range(0, axes).Select(i => i == 1 ? at[i] : 1f)];

            descent.Descend(at, most, damping);
            var plain = descent.PlainStep(at, most, damping);

            for (var i = 0; i < axes; i++)
            {
                Assert.Equal(plain[i], descent.Step[i], 1e-4);
                Assert.InRange(at[i] + descent.Step[i], -1e-7, most[i] + 1e-7);
            }
        }
    }

    [Fact]
    public void Of_one_axis_the_step_is_the_quotient()
    {
        var descent = new BoxDescent(1);
        descent.Gradient[0] = -1;
        descent.Matrix[0] = 4;

        descent.Descend([0.5f], [1], damping: 0);

        Assert.Equal(0.25, descent.Step[0], 1e-6);
    }
}
