using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Separations.Layers;

namespace ProofDesk.Printing.Tests.Separations.Layers;

public class LayerTonesTests
{
    private static BytePlane Plane(int width, int height, Func<int, int, double> coverage)
    {
        var plane = new BytePlane(width, height);
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
            plane[x, y] = (byte)Math.Round(255 * Math.Clamp(coverage(x, y), 0, 1));
        return plane;
    }

    private static double Disc(int x, int y, double radius) =>
        radius + 0.5 - Math.Sqrt((x - 100) * (x - 100) + (y - 100) * (y - 100));

    [Fact]
    public void Antialiased_edges_and_thin_lines_are_no_tone()
    {
        Assert.Null(LayerTones.Find(Plane(200, 200, (x, y) => Disc(x, y, 60)), 12));
        // A line too thin to be solid anywhere.
        Assert.Null(LayerTones.Find(Plane(200, 200, (x, _) => x == 80 ? 0.7 : 0), 12));
    }

    [Fact]
    public void Flat_tints_and_fades_are_tone_all_over()
    {
        var tint = LayerTones.Find(Plane(200, 200, (x, y) => 0.4 * Math.Clamp(Disc(x, y, 60), 0, 1)), 12)!;
        var fade = LayerTones.Find(Plane(200, 200, (x, _) => x / 199.0), 12)!;

        Assert.Equal(1, tint[100, 100]);
        Assert.Equal(0, tint[10, 10]);
        Assert.All(Enumerable.Range(4, 185), x => Assert.Equal(1, fade[x, 100]));
        Assert.All(Enumerable.Range(191, 9), x => Assert.Equal(0, fade[x, 100]));
    }

    [Fact]
    public void The_grain_of_a_painted_layer_is_tone_and_not_a_hundred_edges()
    {
        var grain = Plane(200, 200, (x, y) => 0.5 + 0.2 * SeededNoise.Normal(1, y * 200 + x) / 3);

        var tones = LayerTones.Find(grain, 12)!;

        Assert.All(Enumerable.Range(10, 180), x => Assert.Equal(1, tones[x, 100]));
    }
}
