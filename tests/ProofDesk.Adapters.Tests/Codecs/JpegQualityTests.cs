using NetVips;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Tests.Codecs;

public sealed class JpegQualityTests
{
    private static byte[] Jpeg(int quality)
    {
        using var noise = Image.Gaussnoise(64, 48, mean: 128, sigma: 30);
        using var picture = noise.Cast(Enums.BandFormat.Uchar);
        return picture.JpegsaveBuffer(q: quality);
    }

    [Theory]
    [InlineData(18)]
    [InlineData(50)]
    [InlineData(75)]
    [InlineData(95)]
    public void The_quality_is_read_from_the_tables(int quality) =>
        Assert.InRange(JpegQuality.Of(Jpeg(quality))!.Value, quality - 1, quality + 1);

    [Fact]
    public void A_jpeg_that_was_saved_hard_is_named_with_its_quality()
    {
        var found = JpegQuality.Finding(Jpeg(40));

        Assert.Equal("hard-compression", found!.Code);
        Assert.Equal(FindingWeight.Warning, found.Weight);
        Assert.Equal(
            "the jpeg was saved at a quality of about 40 of 100, 70 or more keeps edges clean: blocks of 8 px and speckle round edges print with it",
            found.Message
        );
        Assert.Equal(
            "supply the original drawing or photograph, or export it again as png, tiff or a jpeg of 90; saving this file again does not help",
            found.NextStep
        );
    }

    [Fact]
    public void A_good_jpeg_and_a_cut_one_say_nothing()
    {
        var good = Jpeg(90);

        Assert.Null(JpegQuality.Finding(good));
        Assert.Null(JpegQuality.Finding(good.AsSpan(0, 20)));
        Assert.Null(JpegQuality.Finding([]));
    }
}
