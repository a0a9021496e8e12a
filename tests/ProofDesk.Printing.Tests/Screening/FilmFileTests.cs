using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Tests.Screening;

/// <summary>Film files, judged by libtiff's programs.</summary>
public sealed class FilmFileTests
{
    [SkippableTheory]
    [InlineData(1, 1)]
    [InlineData(63, 300)]
    [InlineData(64, 256)]
    [InlineData(65, 257)]
    [InlineData(5000, 700)]
    public void Libtiff_reads_the_bits_we_wrote(int width, int height)
    {
        using var folder = new OutsidePrograms.Folder();
        var plane = Dots(width, height);
        File.WriteAllBytes(folder["film.tif"], Written(plane));

        OutsidePrograms.Run("tiffcp", "-c", "none", "-r", height.ToString(), folder["film.tif"], folder["plain.tif"]);

        Assert.Equal(Packed(plane), Strips(File.ReadAllBytes(folder["plain.tif"]), (width + 7) / 8 * height));
    }

    [SkippableFact]
    public void Libtiff_reads_every_run_length()
    {
        using var folder = new OutsidePrograms.Folder();
        var plane = new BitPlane(5400, 2 * 2700);
        for (var run = 0; run < 2700; run++)
        {
            BitRows.FillRun(plane.Row(2 * run), 0, run);
            BitRows.FillRun(plane.Row(2 * run + 1), run, 2 * run);
        }
        File.WriteAllBytes(folder["film.tif"], Written(plane));

        OutsidePrograms.Run("tiffcp", "-c", "none", "-r", "5400", folder["film.tif"], folder["plain.tif"]);

        Assert.Equal(Packed(plane), Strips(File.ReadAllBytes(folder["plain.tif"]), 5400 / 8 * 5400));
    }

    [SkippableFact]
    public void Tiffinfo_says_what_the_film_is()
    {
        using var folder = new OutsidePrograms.Folder();
        File.WriteAllBytes(folder["film.tif"], Written(Dots(500, 600)));

        var said = OutsidePrograms.Run("tiffinfo", folder["film.tif"]);

        foreach (
            var line in new[]
            {
                "Image Width: 500 Image Length: 600",
                "Resolution: 1440, 720.5 pixels/inch",
                "Bits/Sample: 1",
                "Compression Scheme: CCITT Group 4",
                "Photometric Interpretation: min-is-white",
                "Samples/Pixel: 1",
                "Rows/Strip: 256",
                "ImageDescription: screen 1 of 3",
                "Software: film test",
            }
        )
            Assert.Contains(line, said, StringComparison.Ordinal);
        Assert.DoesNotContain("arning", said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_film_comes_back_from_its_file_with_all_it_says()
    {
        var plane = Dots(1000, 777);

        var reader = new G4TiffReader(Written(plane));

        Assert.Equal((1000, 777, 1440.0, 720.5), (reader.Width, reader.Height, reader.XDpi, reader.YDpi));
        Assert.Equal("screen 1 of 3", reader.Description);
        Assert.Equal(plane.Words, reader.Read().Words);
    }

    [Fact]
    public void The_same_film_gives_the_same_bytes() =>
        Assert.Equal(Written(Dots(3000, 3000)), Written(Dots(3000, 3000)));

    [Fact]
    public void A_file_cut_short_anywhere_is_refused_in_our_words()
    {
        var file = Written(Dots(300, 300));

        for (var length = 0; length < file.Length; length += 7)
        {
            var refused = Assert.Throws<InvalidDataException>(() => new G4TiffReader(file.AsMemory(0, length)).Read());
            Assert.StartsWith("not a film file of ours: ", refused.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_failure_while_rows_are_made_reaches_the_caller()
    {
        var failed = Assert.Throws<InvalidOperationException>(() =>
            G4Tiff.Write(
                new MemoryStream(),
                64,
                5000,
                new(1440, 1440, "", ""),
                (top, _) =>
                {
                    if (top > 2000)
                        throw new InvalidOperationException("no more rows");
                }
            )
        );

        Assert.Equal("no more rows", failed.Message);
    }

    [Fact]
    public void A_cancelled_film_stops()
    {
        using var cancelled = new CancellationTokenSource();
        cancelled.Cancel();

        Assert.ThrowsAny<OperationCanceledException>(() =>
            G4Tiff.Write(
                new MemoryStream(),
                64,
                5000,
                new(1440, 1440, "", ""),
                (_, _) => { },
                cancellation: cancelled.Token
            )
        );
    }

    private static byte[] Written(BitPlane plane)
    {
        var file = new MemoryStream();
        G4Tiff.Write(file, plane.Width, plane.Height, new(1440, 720.5, "screen 1 of 3", "film test"), Read);
        return file.ToArray();

        void Read(int top, BitPlane band)
        {
            for (var y = 0; y < band.Height; y++)
                if (top + y < plane.Height)
                    plane.Row(top + y).CopyTo(band.Row(y));
        }
    }

    /// <summary>Round dots of changing size, as in a film.</summary>
    private static BitPlane Dots(int width, int height)
    {
        var plane = new BitPlane(width, height);
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
            plane[x, y] = Math.Sin(x / 4.0) * Math.Cos(y / 5.0) > Math.Sin((x + y) / 200.0);
        return plane;
    }

    /// <summary>Rows of whole bytes, most significant bit first: what an uncompressed TIFF holds.</summary>
    private static byte[] Packed(BitPlane plane)
    {
        var stride = (plane.Width + 7) / 8;
        var bytes = new byte[stride * plane.Height];
        for (var y = 0; y < plane.Height; y++)
        for (var x = 0; x < plane.Width; x++)
            if (plane[x, y])
                bytes[y * stride + x / 8] |= (byte)(0x80 >> (x % 8));
        return bytes;
    }

    /// <summary>The one strip of an uncompressed little-endian TIFF.</summary>
    private static byte[] Strips(byte[] file, int length)
    {
        Assert.Equal("II"u8.ToArray(), file[..2]);
        var directory = BitConverter.ToInt32(file, 4);
        for (var i = 0; i < BitConverter.ToUInt16(file, directory); i++)
        {
            var entry = directory + 2 + 12 * i;
            if (BitConverter.ToUInt16(file, entry) != 273)
                continue;
            Assert.Equal(1, BitConverter.ToInt32(file, entry + 4));
            return file.AsSpan(BitConverter.ToInt32(file, entry + 8), length).ToArray();
        }
        throw new InvalidDataException("no strip");
    }
}
