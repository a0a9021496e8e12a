using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Tests.Garments;

public sealed class PlainWeaveTests
{
    [Fact]
    public void The_mean_over_a_repeat_is_the_cloth_itself()
    {
        const int n = 200;
        var sum = 0.0;
        for (var i = 0; i < n; i++)
        for (var j = 0; j < n; j++)
            sum += PlainWeave.Height(2 * (i + 0.5) / n, 2 * (j + 0.5) / n);

        Assert.Equal(0, sum / (n * n), 1e-4);
    }

    [Fact]
    public void Ends_and_picks_lie_on_top_by_turns()
    {
        // At the edge between two ends, half way down a pick: low where the end is on top, high where the pick crosses.
        Assert.True(PlainWeave.Height(0.02, 0.5) < PlainWeave.Height(1.02, 0.5) - 0.3);
        Assert.Equal(PlainWeave.Height(0.3, 0.4), PlainWeave.Height(2.3, 2.4), 1e-9);
        Assert.Equal(PlainWeave.Height(0.3, 0.4), PlainWeave.Height(1.3, 1.4), 1e-9);
    }
}
