using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Separations.Mixed;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Mixed;

public sealed class FlatFinderTests
{
    [Fact]
    public void Nothing_is_flat_in_a_painted_scene()
    {
        Assert.True(FlatFinder.Find(PaintedArt.Dusk(900, 720)).IsEmpty);
        Assert.True(FlatFinder.Find(MixedPicture.Dusk().Noise(4).Sized()).IsEmpty);
    }

    // A sky blown out to white, a night gone to black: one colour over a large area, but softly ended.
    [Fact]
    public void A_sky_that_is_blown_out_is_not_flat()
    {
        var art = PaintedArt.Of(
            720,
            576,
            60,
            (x, y) =>
            {
                var light = 1.5 - 2 * y + 0.2 * Math.Sin(7 * x) + 0.1 * Math.Sin(31 * x * y);
                return (light, light * 1.05, light * 1.1, 1);
            }
        );

        Assert.True(FlatFinder.Find(art).IsEmpty);
    }

    // Leaves, gravel, hair: thousands of small patches with hard edges, none of one colour.
    [Fact]
    public void A_texture_of_hard_patches_is_not_flat()
    {
        var art = PaintedArt.Of(
            720,
            576,
            60,
            (x, y) =>
            {
                var cell = (long)(x * 90) * 1000 + (long)(y * 72);
                double Shade(long n) => 0.25 + 0.12 * SeededNoise.Normal(3, cell * 3 + n);
                var grain = 0.015 * SeededNoise.Normal(5, (long)(x * 720) * 7919 + (long)(y * 576));
                return (Shade(0) + grain, Shade(1) + 0.1 + grain, Shade(2) - 0.1 + grain, 1);
            }
        );

        Assert.True(FlatFinder.Find(art).IsEmpty);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(2)]
    public void Lettering_and_fields_are_found_with_their_colour_and_area(double noise)
    {
        var art = MixedPicture
            .Dusk()
            .Letter("#f2c230", "HARBOUR", 4, 4, 9)
            .Field("#c8102e", 30, 28, 52, 42)
            .Letter("#ffffff", "87", 33, 31, 8);

        var flat = FlatFinder.Find((noise == 0 ? art : art.Noise(noise)).Sized());

        Assert.Equal(3, flat.Colours.Length);
        foreach (
            var (hex, mm2) in new[]
            {
                ("#c8102e", 308 - Area("87", 8)),
                ("#f2c230", Area("HARBOUR", 9)),
                ("#ffffff", Area("87", 8)),
            }
        )
        {
            var index = Enumerable.Range(0, 3).MinBy(i => Off(flat.Colours[i], hex));
            Assert.InRange(Off(flat.Colours[index], hex), 0, 2);
            Assert.InRange(flat.Shares[index].Pixels.Sum(p => p) / 255.0 / 144, 0.97 * mm2, 1.03 * mm2);
        }
    }

    // Every edge pixel is so much of one and so much of the other, as the drawing program covered it.
    [Fact]
    public void Antialiased_edges_are_taken_apart()
    {
        var outlines = MixedPicture.Letters("RIVER", 5, 15, 11);
        var art = MixedPicture.Dusk().Draw("#f2c230", outlines).Sized();
        var drawn = MixedPicture.Coverage(outlines, art.Pixels.Width, art.Pixels.Height, MixedPicture.PixelsPerMm);

        var flat = FlatFinder.Find(art);

        var off = Enumerable
            .Range(0, drawn.Pixels.Length)
            .Where(i => drawn.Pixels[i] is > 0 and < 255)
            .Select(i => Math.Abs(flat.Shares[0].Pixels[i] - drawn.Pixels[i]) / 255.0)
            .Order()
            .ToArray();
        Assert.InRange(off.Average(), 0, 0.04);
        Assert.InRange(off[(int)(0.95 * off.Length)], 0, 0.12);
    }

    [Fact]
    public void Dots_smaller_than_dirt_stay_in_the_picture()
    {
        var art = MixedPicture.Dusk().Letter("#f2c230", "HARBOUR", 4, 4, 9);
        for (var i = 0; i < 20; i++)
            art.Field("#f2c230", 5 + 2.5 * i, 40, 5.2 + 2.5 * i, 40.2);

        var flat = FlatFinder.Find(art.Sized());

        var left = 0;
        for (var y = 470; y < 500; y++)
            left += flat.Shares[0].Row(y).ToArray().Count(p => p != 0);
        Assert.Equal(0, left);
    }

    private static double Area(string text, double capitalMm)
    {
        var plane = MixedPicture.Coverage(
            MixedPicture.Letters(text, 1, 1, capitalMm),
            1440,
            400,
            MixedPicture.PixelsPerMm
        );
        return plane.Pixels.Sum(p => p) / 255.0 / 144;
    }

    private static double Off(FlatColour colour, string hex)
    {
        var rgb = Convert.ToInt32(hex[1..], 16);
        var wanted = Srgb.ToLab(Srgb.Decode((rgb >> 16) / 255.0, (rgb >> 8 & 255) / 255.0, (rgb & 255) / 255.0));
        return Ciede2000.Difference(Srgb.ToLab(colour.Linear), wanted);
    }
}
