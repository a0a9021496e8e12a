using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Tests.Colour;

public sealed class PictureDifferenceTests
{
    [Fact]
    public void Equal_pictures_differ_nowhere()
    {
        var picture = Enumerable.Range(0, 3 * 16).Select(i => (byte)(i * 5)).ToArray();

        var difference = PictureDifference.Of(picture, [.. picture], 4, 4);

        Assert.Equal(
            (0, 0, 0, 0),
            (difference.Mean, difference.Percentile95, difference.Largest, difference.ShareFrom(1))
        );
    }

    [Fact]
    public void One_pixel_of_a_hundred_is_found_and_measured_as_the_formula_does()
    {
        var one = new byte[300];
        Array.Fill(one, (byte)200);
        byte[] other = [.. one];
        (other[3 * 37], other[3 * 37 + 1], other[3 * 37 + 2]) = (200, 0, 0);

        var difference = PictureDifference.Of(one, other, 10, 10);

        var expected = Ciede2000.Difference(Of(200, 200, 200), Of(200, 0, 0));
        Assert.Equal(expected, difference.Largest, 0.006);
        Assert.Equal(difference.Largest, difference[7, 3]);
        Assert.Equal(expected / 100, difference.Mean, 0.001);
        Assert.Equal((0, 0.01), (difference.Percentile95, difference.ShareFrom(1)));
        Assert.Equal(0, difference[8, 3]);
    }

    [Fact]
    public void Pictures_of_other_sizes_are_refused_by_name()
    {
        var refused = Assert.Throws<ArgumentException>(() => PictureDifference.Of(new byte[12], new byte[9], 2, 2));

        Assert.Equal("2 x 2 needs 12 bytes in each picture; 12 and 9 given", refused.Message);
    }

    private static Lab Of(byte r, byte g, byte b) => Srgb.ToLab(Srgb.Decode(r / 255.0, g / 255.0, b / 255.0));
}
