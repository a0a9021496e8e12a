using System.IO.Compression;
using ProofDesk.Adapters.Codecs;
using ProofDesk.Adapters.Codecs.Layers;
using static ProofDesk.Adapters.Tests.Codecs.Reading;

namespace ProofDesk.Adapters.Tests.Codecs.Layers;

/// <summary>A zip of pictures, one an ink, packed by Python's zipfile.</summary>
public sealed class ZipLayersTests : LayerFixture
{
    private const string OnlyPictures =
        "put only the pictures of one print into the zip, one a layer: png, tiff or jpeg, grey, dark for ink";

    private string Packed(params string[] files)
    {
        Programs.Run("python3", ["-m", "zipfile", "-c", In("layers.zip"), .. files]);
        return In("layers.zip");
    }

    private async Task<UnreadableArt> RefusedZip(string zip, DecodeLimits? limits = null) =>
        await Refused(await File.ReadAllBytesAsync(zip), limits);

    [SkippableFact]
    public async Task Files_become_layers_in_the_order_of_their_numbers_and_convert_counts_the_same_ink()
    {
        string[] files =
        [
            Drawn("10_navy.png", "-draw", "circle 100,100 100,40"),
            Drawn("2_red.tif", "-draw", "rectangle 60,60 240,140", "-type", "Grayscale", "-depth", "16"),
            Drawn("1_base.jpg", "-draw", "rectangle 40,40 260,160", "-type", "Grayscale", "-quality", "95"),
            Drawn("black.png", "-draw", "polygon 20,180 280,180 150,20"),
        ];

        var art = await Read(Packed(files));

        Assert.Equal(["1_base", "2_red", "10_navy", "black"], art.Layers.Select(l => l.Name));
        Assert.Equal(
            ("zip", 300, 200, "grey"),
            (art.Source.Format, art.Source.WidthPixels, art.Source.HeightPixels, art.Source.ColourModel)
        );
        foreach (var (layer, file) in art.Layers.Zip(new[] { files[2], files[1], files[0], files[3] }))
            Assert.Equal(InkByConvert(file), Mean(layer), 0.001);
    }

    [SkippableFact]
    public async Task A_tint_is_a_tint_and_alpha_is_honoured()
    {
        // Half grey at half opacity covers a quarter; a white shape on nothing is white ink.
        var tint = Drawn(
            "1_red.png",
            "-alpha",
            "set",
            "-fill",
            "gray(128)",
            "-draw",
            "color 0,0 reset",
            "-channel",
            "A",
            "-evaluate",
            "set",
            "50%"
        );
        Programs.Run(
            "convert",
            "-size",
            "300x200",
            "xc:none",
            "-fill",
            "white",
            "-draw",
            "rectangle 0,0 149,199",
            In("2_white.png")
        );

        var art = await Read(Packed(tint, In("2_white.png")));

        Assert.InRange(art.Layers[0].Coverage[10, 10], 62, 65);
        Assert.Equal((255, 0), (art.Layers[1].Coverage[10, 10], art.Layers[1].Coverage[200, 10]));
        Assert.Equal([null, "#ffffff"], art.Layers.Select(l => l.Colour));
    }

    [SkippableFact]
    public async Task What_a_desktop_leaves_in_a_zip_is_passed_over()
    {
        Directory.CreateDirectory(In("__MACOSX"));
        await File.WriteAllTextAsync(In("__MACOSX/._red.png"), "x");
        await File.WriteAllTextAsync(In("Thumbs.db"), "x");
        var red = Drawn("red.png", "-draw", "circle 100,100 100,40");

        var art = await Read(Packed(red, In("__MACOSX"), In("Thumbs.db")));

        Assert.Equal("red", Assert.Single(art.Layers).Name);
    }

    [SkippableFact]
    public async Task A_folder_is_the_zip_that_it_would_be_and_has_one_digest()
    {
        Directory.CreateDirectory(In("set"));
        Drawn("set/1_red.png", "-draw", "circle 100,100 100,40");
        Drawn("set/2_navy.png", "-draw", "rectangle 60,60 240,140");

        async Task<string> Digest()
        {
            await using var packed = PictureFolder.Packed(In("set"), DecodeLimits.Default);
            var art = await new ArtDecoder().DecodeAsync(packed, 100, CancellationToken.None);
            Assert.Equal(["1_red", "2_navy"], art.Layers.Select(l => l.Name));
            return art.Sha256;
        }

        Assert.Equal(await Digest(), await Digest());
    }

    [SkippableFact]
    public async Task Another_file_in_it_is_refused_by_name()
    {
        await File.WriteAllTextAsync(In("notes.txt"), "print this in red");
        var red = Drawn("red.png", "-draw", "circle 100,100 100,40");

        var no = await RefusedZip(Packed(red, In("notes.txt")));

        Assert.Equal(
            ("zip-holds-other-files", "\"notes.txt\" in the zip is no png, tiff or jpeg picture", OnlyPictures),
            (no.Code, no.What, no.NextStep)
        );
    }

    [SkippableFact]
    public async Task A_zip_in_a_zip_is_no_picture()
    {
        var red = Drawn("red.png", "-draw", "circle 100,100 100,40");
        File.Move(Packed(red), In("inner.zip"));

        var no = await RefusedZip(Packed(red, In("inner.zip")));

        Assert.Equal("\"inner.zip\" in the zip is no png, tiff or jpeg picture", no.What);
    }

    [SkippableFact]
    public async Task A_picture_of_several_colours_is_refused()
    {
        var red = Drawn("a.png", "-draw", "circle 100,100 100,40");
        Programs.Run("convert", "-size", "300x200", "plasma:red-blue", In("photo.png"));

        var no = await RefusedZip(Packed(red, In("photo.png")));

        Assert.Equal(
            (
                "zip-picture-of-colours",
                "\"photo.png\" in the zip shows several colours; a layer is one ink",
                "save it in grey, dark for ink, or send the whole picture by itself to have its colours separated here"
            ),
            (no.Code, no.What, no.NextStep)
        );
    }

    [SkippableFact]
    public async Task Pictures_of_unequal_size_are_refused()
    {
        var red = Drawn("1_red.png", "-draw", "circle 100,100 100,40");
        var navy = Drawn("2_navy.png", "-draw", "rectangle 60,60 240,140", "-extent", "300x201");

        var no = await RefusedZip(Packed(red, navy));

        Assert.Equal(
            "\"2_navy.png\" is 300 x 201 px, 1 px higher than \"1_red.png\": layers of one print lie on each other and have one size",
            no.What
        );
    }

    [SkippableFact]
    public async Task A_picture_of_several_pages_is_refused()
    {
        var red = Drawn("a.png", "-draw", "circle 100,100 100,40");
        Programs.Run("convert", red, red, In("pages.tif"));

        var no = await RefusedZip(Packed(In("pages.tif")));

        Assert.Equal("\"pages.tif\" in the zip has 2 pages; a picture in a zip is one layer", no.What);
    }

    [SkippableFact]
    public async Task Too_many_pictures_and_too_many_files_are_refused()
    {
        var red = Drawn("a.png", "-draw", "circle 100,100 100,40");
        using (var zip = ZipFile.Open(In("many.zip"), ZipArchiveMode.Create))
            for (var i = 0; i < 17; i++)
                zip.CreateEntryFromFile(red, $"{i}.png");
        using (var zip = ZipFile.Open(In("more.zip"), ZipArchiveMode.Create))
            for (var i = 0; i < 201; i++)
                zip.CreateEntry($"empty/{i}/");

        Assert.Equal("the zip holds 17 pictures; 16 layers are the limit", (await RefusedZip(In("many.zip"))).What);
        Assert.Equal(
            "the zip holds 201 files; 200 are looked at, 16 may be layers",
            (await RefusedZip(In("more.zip"))).What
        );
    }

    [Fact]
    public async Task An_empty_zip_is_refused()
    {
        using (ZipFile.Open(In("empty.zip"), ZipArchiveMode.Create)) { }

        var no = await RefusedZip(In("empty.zip"));

        Assert.Equal(("zip-empty", "the zip holds no picture", OnlyPictures), (no.Code, no.What, no.NextStep));
    }

    [Fact]
    public async Task A_bomb_is_stopped_while_it_unpacks()
    {
        using (var zip = ZipFile.Open(In("bomb.zip"), ZipArchiveMode.Create))
        {
            await using var into = zip.CreateEntry("red.png").Open();
            var zeros = new byte[1 << 20];
            for (var i = 0; i < 60; i++)
                await into.WriteAsync(zeros);
        }

        var no = await RefusedZip(In("bomb.zip"), DecodeLimits.Default with { MaxFileBytes = 50 << 20 });

        Assert.True(new FileInfo(In("bomb.zip")).Length < 100_000);
        Assert.Equal("\"red.png\" in the zip unpacks to more than the 50 MiB that a file may have", no.What);
    }

    [SkippableFact]
    public async Task A_locked_picture_is_refused()
    {
        var zip = await File.ReadAllBytesAsync(Packed(Drawn("red.png", "-draw", "circle 100,100 100,40")));
        // The bit for encryption, in the local header (offset 6) and in the directory (offset 8).
        zip[6] |= 1;
        zip[zip.AsSpan().LastIndexOf("PK\x1\x2"u8) + 8] |= 1;

        var no = await Refused(zip);

        Assert.Equal(
            ("zip-locked", "\"red.png\" in the zip is locked with a password", "pack it again without one"),
            (no.Code, no.What, no.NextStep)
        );
    }

    [SkippableFact]
    public async Task A_zip_cut_short_is_refused()
    {
        var zip = await File.ReadAllBytesAsync(Packed(Drawn("red.png", "-draw", "circle 100,100 100,40")));

        var no = await Refused(zip[..(zip.Length / 2)]);

        Assert.Equal(
            ("damaged", "the zip file is cut short or damaged", "pack it again and send the whole file"),
            (no.Code, no.What, no.NextStep)
        );
    }

    [SkippableFact]
    public async Task Damaged_zips_are_refused_in_words()
    {
        var whole = await File.ReadAllBytesAsync(
            Packed(
                Drawn("1_red.png", "-draw", "circle 100,100 100,40"),
                Drawn("2_navy.png", "-draw", "rectangle 60,60 240,140")
            )
        );
        var random = new Random(4);
        for (var round = 0; round < 20; round++)
        {
            var file = whole.ToArray();
            for (var i = 0; i < 4; i++)
                file[4 + random.Next(file.Length - 4)] = (byte)random.Next(256);
            try
            {
                Assert.NotEmpty((await Read(file)).Layers);
            }
            catch (UnreadableArt no)
            {
                Assert.NotEqual("decoder-stopped", no.Code);
                Assert.NotEmpty(no.NextStep);
            }
        }
    }
}
