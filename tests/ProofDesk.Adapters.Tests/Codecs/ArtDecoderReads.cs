using static ProofDesk.Adapters.Tests.Codecs.Reading;

namespace ProofDesk.Adapters.Tests.Codecs;

/// <summary>Pictures made by ImageMagick, read by our decoder: the pixels must be those that were drawn.</summary>
public sealed class ArtDecoderReads : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-codecs-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    /// <summary>Left half 200,80,30; right half 20,60,180; 40 x 20 px.</summary>
    private string Make(string name, params string[] options)
    {
        var path = Path.Combine(_folder, name);
        Programs.Run(
            "convert",
            [
                "(",
                "-size",
                "20x20",
                "xc:rgb(200,80,30)",
                "xc:rgb(20,60,180)",
                "+append",
                ")",
                "-depth",
                "8",
                .. options,
                path,
            ]
        );
        return path;
    }

    [SkippableTheory]
    [InlineData("plain.png", "png", 8, "rgb", false, 0.0)]
    [InlineData("deep.png -define png:bit-depth=16", "png", 16, "rgb", false, 0.0)]
    [InlineData("few.png -type Palette", "png", 8, "rgb", false, 0.0)]
    [InlineData("clear.png -alpha set -channel A -evaluate set 50%", "png", 8, "rgb", true, 0.0)]
    [InlineData("best.jpg -quality 100 -sampling-factor 4:4:4", "jpeg", 8, "rgb", false, 0.008)]
    [InlineData("steps.jpg -quality 100 -sampling-factor 4:4:4 -interlace JPEG", "jpeg", 8, "rgb", false, 0.008)]
    [InlineData("plain.tif", "tiff", 8, "rgb", false, 0.0)]
    [InlineData("lzw.tif -compress LZW", "tiff", 8, "rgb", false, 0.0)]
    [InlineData("zip.tif -compress Zip -depth 16", "tiff", 16, "rgb", false, 0.0)]
    [InlineData("exact.webp -define webp:lossless=true", "webp", 8, "rgb", false, 0.0)]
    public async Task A_picture_keeps_its_pixels(
        string recipe,
        string format,
        int bits,
        string model,
        bool alpha,
        double tolerance
    )
    {
        var words = recipe.Split(' ');

        var art = await Read(Make(words[0], words[1..]));

        Assert.Equal((40, 20), (art.Pixels.Width, art.Pixels.Height));
        Assert.Equal(
            (format, bits, model, alpha),
            (art.Source.Format, art.Source.BitsPerChannel, art.Source.ColourModel, art.Source.HasAlpha)
        );
        Close([Light(200), Light(80), Light(30)], art.Pixel(5, 10)[..3], tolerance);
        Close([Light(20), Light(60), Light(180)], art.Pixel(35, 10)[..3], tolerance);
        Assert.Equal(alpha ? 128 / 255.0 : 1, art.Pixel(5, 10)[3], 0.005);
        Assert.Empty(art.Findings);
    }

    [SkippableTheory]
    [InlineData("grey.png")]
    [InlineData("grey.jpg")]
    [InlineData("grey.tif")]
    public async Task Grey_becomes_three_equal_channels(string name)
    {
        var path = Path.Combine(_folder, name);
        Programs.Run("convert", "-size", "8x8", "xc:gray(100)", "-colorspace", "Gray", "-quality", "100", path);

        var art = await Read(path);

        Assert.Equal("grey", art.Source.ColourModel);
        Close([Light(100), Light(100), Light(100)], art.Pixel(4, 4)[..3], 1e-4);
    }

    [SkippableFact]
    public async Task A_camera_turned_on_its_side_is_set_upright()
    {
        var art = await Read(Make("turned.tif", "-orient", "RightTop"));

        Assert.Equal((20, 40), (art.Pixels.Width, art.Pixels.Height));
        Close([Light(200), Light(80), Light(30)], art.Pixel(10, 5)[..3], 1e-4);
    }

    [SkippableFact]
    public async Task The_digest_is_that_of_the_file()
    {
        var path = Make("digest.png");

        var art = await Read(path);

        Assert.Equal(Programs.Run("sha256sum", path)[..64], art.Sha256);
    }

    [SkippableFact]
    public async Task Only_the_first_page_of_a_tiff_of_pictures_is_used_and_the_rest_is_said()
    {
        var path = Path.Combine(_folder, "pages.tif");
        Programs.Run("convert", "-size", "8x8", "xc:red", "xc:green", "xc:blue", "-draw", "point 0,0", path);

        var art = await Read(path);

        Close([1, 0, 0], art.Pixel(2, 2)[..3], 1e-4);
        var finding = Assert.Single(art.Findings);
        Assert.Equal("only-first-page", finding.Code);
        Assert.Equal("the file has 3 pages or frames; only the first is used", finding.Message);
        Assert.Equal("send the others as files of their own if they are meant to be printed", finding.NextStep);
    }

    private static void Close(double[] expected, double[] given, double tolerance)
    {
        for (var i = 0; i < expected.Length; i++)
            Assert.Equal(expected[i], given[i], Math.Max(tolerance, 1.0 / 65535));
    }
}
