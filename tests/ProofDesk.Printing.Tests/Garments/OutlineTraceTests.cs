using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Tests.Garments;

public sealed class OutlineTraceTests
{
    private static (double X, double Y)[] Rectangle(double x, double y, double w, double h) =>
        [(x, y), (x + w, y), (x + w, y + h), (x, y + h)];

    // 100 x 40 and 40 x 100 crossed in the middle: 4000 + 4000 - 1600 = 6400 mm2.
    [Fact]
    public void Two_crossed_strips_become_one_cross()
    {
        var cross = OutlineTrace.Of([Rectangle(-50.3, -20.2, 100, 40), Rectangle(-20.3, -50.2, 40, 100)]);

        Assert.Equal(6400, Math.Abs(PolygonArea.Of(cross)), 16.0);
        Assert.Equal(-50.3, cross.Min(p => p.X), 0.15);
        Assert.Equal(49.8, cross.Max(p => p.Y), 0.15);
    }

    [Fact]
    public void A_circle_is_met_within_a_tenth_of_a_millimetre()
    {
        (double X, double Y)[] circle =
        [
            .. Enumerable
                .Range(0, 720)
                .Select(i => (60 * Math.Cos(i * Math.PI / 360), 60 * Math.Sin(i * Math.PI / 360))),
        ];

        Assert.All(OutlineTrace.Of([circle]), p => Assert.Equal(60, Math.Sqrt(p.X * p.X + p.Y * p.Y), 0.1));
    }

    [Fact]
    public void A_hole_is_not_cut_out_and_a_loose_scrap_is_left()
    {
        var ring = OutlineTrace.Of([
            Rectangle(0, 0, 60, 10),
            Rectangle(0, 50, 60, 10),
            Rectangle(0, 0, 10, 60),
            Rectangle(50, 0, 10, 60),
            Rectangle(100, 0, 8, 8),
        ]);

        Assert.Equal(3600, Math.Abs(PolygonArea.Of(ring)), 4.0);
        Assert.Equal(60, ring.Max(p => p.X), 0.15);
    }
}
