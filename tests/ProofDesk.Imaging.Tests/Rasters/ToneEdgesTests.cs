using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public class ToneEdgesTests
{
    /// <summary>A slanting antialiased edge of 60 on 200, with a few lonely pixels.</summary>
    private static BytePlane Uneven(int width, int height)
    {
        var plane = new BytePlane(width, height);
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
        {
            var inside = Math.Clamp((x - width / 2.0) * 0.8 + (y - height / 2.0) * 0.6 + 0.5, 0, 1);
            plane[x, y] = (byte)(60 + 140 * inside + SeededNoise.Hash(3, x, y) % 17);
        }
        plane[5, 5] = 255;
        plane[width - 3, height - 2] = 0;
        return plane;
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(1)]
    [InlineData(2.7)]
    [InlineData(6.4)]
    [InlineData(-0.5)]
    [InlineData(-3.25)]
    public void Sixty_four_pixels_at_a_time_are_the_same_as_one_by_one(double px)
    {
        var plane = Uneven(131, 67);

        Assert.Equal(ToneEdges.Plain(plane, px).Pixels, ToneEdges.Moved(plane, px).Pixels);
    }

    [Theory]
    [InlineData(1, 0)]
    [InlineData(0, 1)]
    [InlineData(0.8, 0.6)]
    [InlineData(-0.28, 0.96)]
    public void An_edge_moves_by_the_distance_in_every_direction(double nx, double ny)
    {
        foreach (var px in (double[])[0.4, 1.7, 3.3, -0.6, -2.2])
        {
            // Ink of 220 beside 20, the edge through the middle; where it lies now follows from the ink's area.
            var plane = new BytePlane(120, 120);
            for (var y = 0; y < 120; y++)
            for (var x = 0; x < 120; x++)
                plane[x, y] = (byte)Math.Round(20 + 200 * Math.Clamp((x - 59.5) * nx + (y - 59.5) * ny + 0.5, 0, 1));

            var moved = ToneEdges.Moved(plane, px);

            Assert.Equal(px, Middle(moved) - Middle(plane), 0.1);
        }

        // Ink over a disc around the middle: the edge is a chord whose place gives half the disc and 2 r d.
        double Middle(BytePlane plane)
        {
            const int Radius = 40;
            var sum = 0.0;
            for (var y = 0; y < 120; y++)
            for (var x = 0; x < 120; x++)
            {
                var along = (x - 59.5) * ny - (y - 59.5) * nx;
                var across = (x - 59.5) * nx + (y - 59.5) * ny;
                if (Math.Abs(along) <= Radius && Math.Abs(across) <= 12)
                    sum += (plane[x, y] - 20) / 200.0;
            }
            return sum / (2 * Radius);
        }
    }

    [Fact]
    public void A_flat_plane_stays_flat_up_to_its_border()
    {
        var plane = new BytePlane(40, 30);
        plane.Pixels.AsSpan().Fill(90);

        Assert.All(ToneEdges.Moved(plane, 4.2).Pixels, v => Assert.Equal(90, v));
        Assert.All(ToneEdges.Moved(plane, -4.2).Pixels, v => Assert.Equal(90, v));
    }

    [Fact]
    public void No_distance_is_the_very_same_plane()
    {
        var plane = Uneven(20, 20);

        Assert.Same(plane, ToneEdges.Moved(plane, 0));
    }
}
