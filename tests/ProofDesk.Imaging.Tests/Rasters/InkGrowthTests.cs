using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class InkGrowthTests
{
    [Theory]
    [InlineData(0.3, 0)]
    [InlineData(1.42, 0)]
    [InlineData(1.42, 0.34)]
    [InlineData(2.8, 0.5)]
    [InlineData(5.5, 1)]
    public void Edges_of_all_directions_move_by_the_radius_on_average(double radius, double sigma)
    {
        // A disc far larger than the growth: perimeter x g + pi g^2.
        const int size = 1400;
        const double r = 500;
        var disc = new BitPlane(size, size);
        for (var y = 0; y < size; y++)
        for (var x = 0; x < size; x++)
            disc[x, y] = Math.Pow(x - size / 2, 2) + Math.Pow(y - size / 2, 2) <= r * r;
        var grown = new BitPlane(size, size);

        new InkGrowth(radius, sigma, 3, 1).Grow(disc, grown, 0, 0);

        var was = Math.Sqrt(BitRows.CountInk(disc) / Math.PI);
        var now = Math.Sqrt(BitRows.CountInk(grown) / Math.PI);
        Assert.InRange(now - was, radius - 0.06, radius + 0.06);
    }

    [Fact]
    public void No_growth_leaves_the_ink_as_it_is()
    {
        var plane = TestPlanes.Noise(200, 30, 0.4, 6, 2);
        var grown = new BitPlane(200, 30);

        new InkGrowth(0, 0, 3, 1).Grow(plane, grown, 0, 0);

        Assert.Equal(plane.Words, grown.Words);
    }

    [Fact]
    public void Bands_have_the_edges_of_the_whole()
    {
        var plane = TestPlanes.Noise(1300, 700, 0.1, 40, 2);
        var growth = new InkGrowth(2.3, 0.6, 5, 9);
        var whole = new BitPlane(1300, 700);
        growth.Grow(plane, whole, 0, 0);
        var source = new BitPlane(1300, 100 + 2 * growth.HaloRows);
        for (var y = 0; y < source.Height; y++)
            plane.Row(470 - growth.HaloRows + y).CopyTo(source.Row(y));
        var band = new BitPlane(1300, 100);

        growth.Grow(source, band, growth.HaloRows, 470);

        for (var y = 0; y < 100; y++)
            Assert.Equal(whole.Row(470 + y).ToArray(), band.Row(y).ToArray());
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.25)]
    [InlineData(0.9)]
    [InlineData(1)]
    public void A_mask_inks_its_share_exactly_and_lies_within_the_mask_of_a_larger_share(double share)
    {
        var noise = new NoiseMasks(5, 4);
        var mask = noise.Mask(share);

        Assert.Equal((long)Math.Round(share * NoiseMasks.Width * NoiseMasks.Height), BitRows.CountInk(mask));
        var larger = noise.Mask(Math.Min(1, share + 0.05));
        for (var i = 0; i < mask.Words.Length; i++)
            Assert.Equal(0UL, mask.Words[i] & ~larger.Words[i]);
    }

    [Fact]
    public void Discs_follow_the_sums_of_two_squares()
    {
        var squares = new List<int>();
        for (var disc = Disc.Within(0); disc.SquaredRadius <= 20; disc = disc.Next())
            squares.Add(disc.SquaredRadius);

        Assert.Equal([0, 1, 2, 4, 5, 8, 9, 10, 13, 16, 17, 18, 20], squares);
    }

    [Fact]
    public void The_cross_of_five_pixels_moves_edges_by_its_hulls_perimeter_over_two_pi() =>
        // A square on its corner with sides of square root 2.
        Assert.Equal(4 * Math.Sqrt(2) / (2 * Math.PI), Disc.Within(1).GrowthPx, 6);
}
