using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class ExtremesTests
{
    [Theory]
    [InlineData(1, 1, 1)]
    [InlineData(5, 7, 3)]
    [InlineData(97, 140, 0)]
    [InlineData(97, 140, 1)]
    [InlineData(201, 70, 5)]
    public void The_vector_path_compares_every_pixel_of_the_square(int width, int height, int radius)
    {
        var plane = new BytePlane(width, height);
        for (var i = 0; i < plane.Pixels.Length; i++)
            plane.Pixels[i] = (byte)(SeededNoise.Hash(4, i) >> 56);
        var (least, most) = (Extremes.Least(plane, radius), Extremes.Most(plane, radius));
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
        {
            Assert.Equal(Extremes.PlainAt(plane, x, y, radius, most: false), least[x, y]);
            Assert.Equal(Extremes.PlainAt(plane, x, y, radius, most: true), most[x, y]);
        }
    }
}
