using System.Text;
using ProofDesk.Adapters.Codecs;
using static ProofDesk.Adapters.Tests.Codecs.Reading;

namespace ProofDesk.Adapters.Tests.Codecs;

/// <summary>What strangers send that is not art: each is refused with its reason, and the next file is read as ever.</summary>
public sealed class ArtDecoderRefuses : IDisposable
{
    private const string ScaleDown =
        "scale it down or flatten it: 600 px per inch of print is more than a screen can hold";

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-codecs-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    private byte[] Made(string name, params string[] options)
    {
        var path = Path.Combine(_folder, name);
        Programs.Run("convert", ["-size", "64x64", "plasma:red-blue", "-depth", "8", .. options, path]);
        return File.ReadAllBytes(path);
    }

    [Fact]
    public async Task A_canvas_of_50000_px_is_refused_from_its_header()
    {
        var no = await Refused(BrokenFiles.Png(50_000, 50_000));

        Assert.Equal("canvas-too-large", no.Code);
        Assert.Equal("the canvas is 50000 x 50000 px; a side may have 30000 px", no.What);
        Assert.Equal(ScaleDown, no.NextStep);
        Assert.Equal((50_000, 30_000), (no.Given, no.Limit));
    }

    [Fact]
    public async Task Four_hundred_megapixels_are_refused_from_the_header()
    {
        var no = await Refused(BrokenFiles.Png(20_000, 20_000));

        Assert.Equal("too-many-pixels", no.Code);
        Assert.Equal("the canvas is 20000 x 20000 px, 400 megapixels; 100 are the limit", no.What);
        Assert.Equal(ScaleDown, no.NextStep);
    }

    [Fact]
    public async Task A_file_that_unpacks_to_thousands_of_times_its_size_is_refused()
    {
        var no = await Refused(BrokenFiles.Png(9_000, 9_000));

        Assert.Equal("packed-too-tight", no.Code);
        Assert.StartsWith("the file unpacks to ", no.What, StringComparison.Ordinal);
        Assert.EndsWith(" times its size; 4000 times is the limit", no.What, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_canvas_without_pixels_is_refused()
    {
        var no = await Refused(BrokenFiles.Png(0, 10));

        Assert.Equal("damaged", no.Code);
        Assert.Equal("the png file is cut short or damaged", no.What);
        Assert.Equal("export it again from the program that made it and send the whole file", no.NextStep);
    }

    [SkippableTheory]
    [InlineData("a.png", "png")]
    [InlineData("a.jpg", "jpeg")]
    [InlineData("a.tif", "tiff")]
    [InlineData("a.webp", "webp")]
    public async Task A_file_cut_short_is_refused_and_never_half_grey(string name, string format)
    {
        var whole = Made(name);

        var no = await Refused(whole[..(whole.Length * 6 / 10)]);

        Assert.Equal("damaged", no.Code);
        Assert.Equal($"the {format} file is cut short or damaged", no.What);
        Assert.Equal("export it again from the program that made it and send the whole file", no.NextStep);
    }

    [SkippableFact]
    public async Task A_flipped_bit_in_a_png_is_found_by_its_checksum()
    {
        var file = Made("flip.png");
        file[file.Length / 2] ^= 0x10;

        var no = await Refused(file);

        Assert.Equal("the png file is cut short or damaged", no.What);
    }

    [Theory]
    [InlineData("GIF89a<script>", "this is a gif file; png, jpeg, tiff, webp, svg, pdf and a zip of layers are read")]
    [InlineData(
        "%!PS-Adobe-3.0 EPSF-3.0",
        "this is a postscript file; png, jpeg, tiff, webp, svg, pdf and a zip of layers are read"
    )]
    [InlineData(
        "<html><svg></svg></html>",
        "this is a text file; png, jpeg, tiff, webp, svg, pdf and a zip of layers are read"
    )]
    public async Task A_file_that_is_something_else_is_called_by_its_name(string content, string what)
    {
        var no = await Refused(Encoding.UTF8.GetBytes(content));

        Assert.Equal("format-not-read", no.Code);
        Assert.Equal(what, no.What);
        Assert.Equal("save the art as png with transparency, or as svg, and send that", no.NextStep);
    }

    [Fact]
    public async Task An_empty_file_is_refused()
    {
        var no = await Refused([]);

        Assert.Equal(("empty-file", "the file is empty"), (no.Code, no.What));
    }

    [Fact]
    public async Task A_file_over_the_limit_is_refused_before_it_is_kept()
    {
        var no = await Refused(new byte[3 << 20], DecodeLimits.Default with { MaxFileBytes = 2 << 20 });

        Assert.Equal(("file-too-large", "the file is larger than 2 MiB"), (no.Code, no.What));
        Assert.Equal("flatten it, or scale it to 600 px per inch of print", no.NextStep);
    }

    [SkippableFact]
    public async Task Slow_decoding_is_stopped_by_the_clock()
    {
        var no = await Refused(
            Made("slow.png"),
            DecodeLimits.Default with
            {
                WallClock = TimeSpan.FromMilliseconds(5),
            }
        );

        Assert.Equal("decoding-too-slow", no.Code);
        Assert.Equal("the picture took longer than 0 s to read", no.What);
    }

    [SkippableFact]
    public async Task A_worker_that_runs_out_of_memory_fails_alone()
    {
        var small = DecodeLimits.Default with { MaxWorkerBytes = 200L << 20, MaxFileBytes = 50L << 20 };
        Skip.IfNot(Sandbox.OfThisMachine.ShutIn, Sandbox.OfThisMachine.Description);

        var no = await Refused(Made("fine.png"), small);
        var art = await Read(Made("fine.png"));

        Assert.Equal("decoder-stopped", no.Code);
        Assert.Equal("the picture reader stopped while reading this file", no.What);
        Assert.Equal(64, art.Pixels.Width);
    }

    [SkippableFact]
    public async Task A_png_with_a_zip_behind_it_is_a_png()
    {
        byte[] both = [.. Made("poly.png"), .. "PK\u0003\u0004 and more"u8];

        var art = await Read(both);

        Assert.Equal("png", art.Source.Format);
    }

    [SkippableFact]
    public async Task The_type_is_told_by_content_and_not_by_name()
    {
        var jpeg = Made("real.jpg");
        var path = Path.Combine(_folder, "art.svg.png");
        await File.WriteAllBytesAsync(path, jpeg);

        var art = await Read(path);

        Assert.Equal("jpeg", art.Source.Format);
    }
}
