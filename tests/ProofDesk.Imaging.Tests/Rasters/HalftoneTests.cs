using CsCheck;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class HalftoneTests
{
    private static readonly Gen<BytePlane> Art =
        from width in Gen.Int[1, 90]
        from height in Gen.Int[1, 12]
        from flat in Gen.Bool
        from pixels in (flat ? Gen.Int[0, 3].Select(i => new byte[] { 0, 255, 255, 77 }[i]) : Gen.Byte).Array[
            width * height
        ]
        select new BytePlane(width, height, flat ? Runs(pixels) : pixels);

    /// <summary>Long runs of one value, so that the short cuts for constant words are taken.</summary>
    private static byte[] Runs(byte[] pixels)
    {
        for (var i = 1; i < pixels.Length; i++)
            if (i % 23 != 0)
                pixels[i] = pixels[i - 1];
        return pixels;
    }

    private static ThresholdTile Tile(int width, int height, int shift, ulong seed)
    {
        var ranks = Enumerable.Range(0, width * height).OrderBy(i => SeededNoise.Hash(seed, i)).ToArray();
        return new(width, height, shift, ranks);
    }

    [Fact]
    public void Fast_rows_have_the_bits_of_the_plain_definition()
    {
        var gen =
            from tone in Art
            from shapeSeed in Gen.Int[0, 3]
            from width in Gen.Int[1, 300]
            from height in Gen.Int[1, 40]
            from tileWidth in Gen.Int[1, 200]
            from tileHeight in Gen.Int[1, 4]
            from shift in Gen.Int[0, tileWidth - 1]
            from seed in Gen.ULong
            select (tone, shapeSeed, width, height, Tile(tileWidth, tileHeight, shift, seed));

        gen.Sample(
            (tone, shapeSeed, width, height, tile) =>
            {
                var shape = shapeSeed == 0 ? null : Shape(tone.Width, tone.Height, shapeSeed);
                var rows = new HalftoneRows(tone, shape, tile, width, height);
                var film = new BitPlane(width, height);

                rows.Read(0, film);

                for (var y = 0; y < height; y++)
                for (var x = 0; x < width; x++)
                {
                    var plain = PlainHalftone.Pixel(rows.Tone, rows.Shape, tile, rows.Across, rows.Down, x, y);
                    if (film[x, y] != plain)
                        Assert.Fail($"film pixel ({x}, {y}) is {film[x, y]}, the plain definition says {plain}");
                }
            },
            iter: 300
        );
    }

    [Fact]
    public void Bands_read_in_any_order_are_the_film_read_at_once()
    {
        var tone = new BytePlane(40, 30, Enumerable.Range(0, 1200).Select(i => (byte)(i * 7 % 256)).ToArray());
        var rows = new HalftoneRows(tone, Shape(40, 30, 2), Tile(37, 3, 5, 1), 193, 130);
        var whole = new BitPlane(193, 130);
        rows.Read(0, whole);

        foreach (var top in new[] { 100, 0, 57, -9, 125 })
        {
            var band = new BitPlane(193, 17);
            rows.Read(top, band);

            for (var y = 0; y < 17; y++)
                Assert.Equal(
                    top + y is >= 0 and < 130 ? whole.Row(top + y).ToArray() : new ulong[whole.Stride],
                    band.Row(y).ToArray()
                );
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(63)]
    [InlineData(64)]
    [InlineData(65)]
    public void Solid_art_fills_the_film_and_nothing_beyond_it(int width)
    {
        var tone = new BytePlane(1, 1, [255]);
        var film = new BitPlane(width, 3);

        new HalftoneRows(tone, tone, Tile(13, 1, 5, 1), width, 3).Read(0, film);

        Assert.Equal(3 * width, BitRows.CountInk(film));
    }

    [Fact]
    public void A_straight_outline_keeps_its_area_at_film_resolution()
    {
        // A 20.25 px square with one pixel of antialiased border on the right and lower side.
        var shape = new BytePlane(32, 32);
        PolygonFill.Fill(
            shape,
            [
                [(5, 5), (25.25, 5), (25.25, 25.25), (5, 25.25)],
            ]
        );
        var tone = new BytePlane(32, 32, [.. Enumerable.Repeat((byte)255, 1024)]);
        var film = new BitPlane(320, 320);

        new HalftoneRows(tone, shape, Tile(13, 1, 5, 1), 320, 320).Read(0, film);

        // Within 0.1 art pixel for both borders together.
        Assert.InRange(Math.Sqrt(BitRows.CountInk(film)) / 10, 20.15, 20.35);
    }

    private static BytePlane Shape(int width, int height, int kind)
    {
        var shape = new BytePlane(width, height);
        for (var i = 0; i < shape.Pixels.Length; i++)
            shape.Pixels[i] = kind switch
            {
                1 => (byte)(SeededNoise.Hash(3, i) >> 56),
                2 => (byte)Math.Clamp((i % width - width / 2) * 100 + 128, 0, 255),
                _ => 255,
            };
        return shape;
    }
}
