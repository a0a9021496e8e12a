using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Adapters.Tests.Codecs;

public sealed class PictureWriterTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-codecs-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    private static RgbPicture Patches(double pixelsPerMm)
    {
        byte[][] codes =
        [
            [200, 80, 30],
            [20, 60, 180],
            [128, 128, 128],
            [250, 240, 20],
        ];
        var picture = new RgbPicture(40, 10, pixelsPerMm);
        for (var y = 0; y < 10; y++)
        for (var x = 0; x < 40; x++)
            codes[x / 10].CopyTo(picture.Row(y).Slice(3 * x, 3));
        return picture;
    }

    [Theory]
    [InlineData(6, 6000)]
    [InlineData(11.811024, 11811)]
    [InlineData(2.5, 2500)]
    public void The_scale_in_pHYs_is_exact(double pixelsPerMm, int pixelsPerMetre)
    {
        var png = PictureWriter.Png(Patches(pixelsPerMm));

        var at = png.AsSpan().IndexOf("pHYs"u8);
        Assert.Equal(pixelsPerMetre, BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(at + 4)));
        Assert.Equal(pixelsPerMetre, BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(at + 8)));
        Assert.Equal(1, png[at + 12]);
    }

    /// <summary>Physics F6: the tagged PNG, read again by lcms, has our Lab, dE &lt; 0.5.</summary>
    [SkippableFact]
    public void The_tagged_png_means_the_colours_we_meant()
    {
        var path = Path.Combine(_folder, "tagged.png");
        var profile = Path.Combine(_folder, "tagged.icc");
        File.WriteAllBytes(path, PictureWriter.Png(Patches(6)));
        Programs.Run("convert", path, profile);
        var pixels = Programs.Run("convert", path, "-scale", "4x1!", "-depth", "8", "txt:-");

        var lines = pixels.Split('\n').Skip(1).Where(l => l.Contains('(', StringComparison.Ordinal)).ToArray();
        Assert.Equal(4, lines.Length);
        foreach (var line in lines)
        {
            var codes = line.Split('(', ')')[1]
                .Split(',')
                .Select(v => double.Parse(v, CultureInfo.InvariantCulture))
                .ToArray();
            var input = Path.Combine(_folder, "in.txt");
            File.WriteAllText(input, string.Join('\n', codes) + "\n");
            var said = Programs.Run("sh", "-c", $"transicc -n -t1 -i {profile} '-o*Lab' < {input}");
            var lab = said.Split('\n', StringSplitOptions.RemoveEmptyEntries)[^1]
                .Split(' ', StringSplitOptions.RemoveEmptyEntries)
                .Take(3)
                .Select(v => double.Parse(v, CultureInfo.InvariantCulture))
                .ToArray();
            var ours = Srgb.ToLab(Srgb.Decode(codes[0] / 255, codes[1] / 255, codes[2] / 255));

            var difference = Ciede2000.Difference(new(lab[0], lab[1], lab[2]), ours);

            Assert.True(
                difference < 0.5,
                $"codes {string.Join(' ', codes)}: lcms {said}, ours {ours}, dE00 {difference}"
            );
        }
    }

    [Fact]
    public void The_same_picture_gives_the_same_bytes()
    {
        Assert.Equal(PictureWriter.Png(Patches(6)), PictureWriter.Png(Patches(6)));
    }

    [Fact]
    public void A_preview_is_no_larger_than_asked()
    {
        var jpeg = PictureWriter.Jpeg(Patches(6), maxSide: 20);
        var webp = PictureWriter.WebP(Patches(6), maxSide: 20);

        Assert.Equal(new byte[] { 0xFF, 0xD8, 0xFF }, jpeg[..3]);
        Assert.Equal("WEBP", Encoding.ASCII.GetString(webp, 8, 4));
        using var read = NetVips.Image.JpegloadBuffer(jpeg);
        Assert.Equal((20, 5), (read.Width, read.Height));
    }

    [Fact]
    public void Tiles_are_a_description_and_its_pyramid()
    {
        var tiles = PictureWriter.Tiles(new RgbPicture(600, 300, 6), "print").ToDictionary(t => t.Path, t => t.Bytes);

        Assert.Contains("Width=\"600\"", Encoding.UTF8.GetString(tiles["print.dzi"]), StringComparison.Ordinal);
        Assert.Contains("print_files/10/2_1.jpeg", tiles.Keys);
        Assert.Contains("print_files/0/0_0.jpeg", tiles.Keys);
    }

    [SkippableFact]
    public void A_tone_plate_is_dark_where_there_is_ink_and_has_its_resolution()
    {
        var tone = new BytePlane(8, 8);
        tone.Pixels.AsSpan(0, 32).Fill(255);
        var path = Path.Combine(_folder, "tone.tif");
        File.WriteAllBytes(path, PictureWriter.ToneTiff(tone, 300, 300));

        var info = Programs.Run("tiffinfo", path);
        var pixels = Programs.Run("convert", path, "-depth", "8", "gray:-");

        Assert.Contains("Resolution: 300, 300 pixels/inch", info, StringComparison.Ordinal);
        Assert.Contains("Photometric Interpretation: min-is-black", info, StringComparison.Ordinal);
        Assert.Equal(64, pixels.Length);
        Assert.Equal('\0', pixels[0]);
        Assert.NotEqual('\0', pixels[63]);
    }
}
