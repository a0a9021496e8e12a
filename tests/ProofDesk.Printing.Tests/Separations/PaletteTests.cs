using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Tests.Separations;

public class PaletteTests
{
    private static ImmutableArray<PaletteColour> Find(TestArt art, int? count = null) =>
        Palette.Find(ColourHistogram.Of(art.Sized(100).Pixels, new()), count);

    private static ArtShares Shares(SizedArt art)
    {
        var codes = new SrgbCodes();
        return EdgeUnmixing.Share(
            art.Pixels,
            codes,
            Palette.Find(ColourHistogram.Of(art.Pixels, codes), null),
            art.PixelsPerMm
        );
    }

    private static TestArt Logo() =>
        TestArt.On(600, 400, "#ffffff").Disc("#c8102e", 200, 200, 150).Star("#0b1f4b", 420, 200, 150, 60);

    [Fact]
    public void A_logo_of_three_antialiased_colours_has_exactly_three()
    {
        var palette = Find(Logo());

        Assert.Equal(["#ffffff", "#c8102e", "#0b1f4b"], palette.Select(c => c.Hex));
    }

    [Fact]
    public void Jpeg_noise_makes_no_new_ink()
    {
        var palette = Find(Logo().Noise(2.5, 7));

        Assert.Equal(3, palette.Length);
    }

    [Fact]
    public void Dark_noise_makes_no_new_ink_either()
    {
        var palette = Find(TestArt.On(400, 400, "#040404").Disc("#ffffff", 200, 200, 100).Noise(3, 5));

        Assert.Equal(2, palette.Length);
    }

    [Fact]
    public void A_fade_between_two_colours_is_two_inks()
    {
        var art = new TestArt(600, 200).Paint(
            (x, _) => ($"#{255 - 55 * x / 599:x2}{200 - 184 * x / 599:x2}{46 * x / 599:x2}", 1)
        );

        Assert.Equal(2, Find(art).Length);
    }

    [Fact]
    public void A_fade_from_one_colour_to_nothing_is_one_ink()
    {
        var art = new TestArt(600, 200).Paint((x, _) => ("#0057b8", x / 599.0));

        Assert.Equal("#0057b8", Assert.Single(Find(art)).Hex);
    }

    [Fact]
    public void A_flat_pink_between_red_and_white_is_an_ink_of_its_own()
    {
        var art = Logo().Disc("#e3879a", 60, 60, 40);

        Assert.Contains("#e3879a", Find(art).Select(c => c.Hex));
    }

    [Fact]
    public void A_colour_that_lives_only_in_thin_strokes_is_found()
    {
        var art = TestArt.On(600, 400, "#ffffff").Disc("#c8102e", 200, 200, 150);
        for (var i = 0; i < 8; i++)
            art.Rectangle("#00843d", 380, 40 + 40 * i, 580, 42 + 40 * i);

        Assert.Equal(["#00843d", "#c8102e", "#ffffff"], Find(art).Select(c => c.Hex).Order());
    }

    [Fact]
    public void A_fixed_number_of_colours_is_kept_and_the_bigger_of_two_merged_ones_stays_itself()
    {
        var art = Logo().Disc("#d8203e", 60, 60, 40);

        Assert.Equal(["#0b1f4b", "#c8102e", "#ffffff"], Find(art, 3).Select(c => c.Hex).Order());
    }

    [Fact]
    public void Shares_add_up_to_the_alpha_in_every_pixel()
    {
        var art = Crest.Draw().Disc("#0057b8", 120, 120, 60, alpha: 0.5).Sized(50);

        var shares = Shares(art);

        for (var i = 0; i < art.Pixels.Width * art.Pixels.Height; i++)
        {
            var alpha = art.Pixels.Pixels[4 * i + 3];
            var expected = alpha < ArtSizing.FaintestAlpha ? 0 : (alpha * 255 + 32767) / 65535;
            Assert.Equal(expected, shares.Shares.Sum(s => s.Pixels[i]));
        }
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void An_edge_gives_each_colour_its_area_however_the_art_was_blended(bool inLight)
    {
        var art = new TestArt(400, 400) { BlendInLight = inLight }
            .Rectangle("#ffffff", 0, 0, 400, 400)
            .Disc("#0b1f4b", 200.3, 199.6, 120.4);

        var shares = Shares(art.Sized(100));

        // Area of the disc: pi r^2, on 180 chords a little less; an edge in the wrong space would move it by .14 px x 2 pi r.
        var area = shares.Shares[1].Pixels.Sum(v => v / 255.0);
        var chords = 180 / 2.0 * Math.Sin(2 * Math.PI / 180) * 120.4 * 120.4;
        Assert.InRange(area, chords - 25, chords + 25);
    }

    [Fact]
    public void A_hard_edged_logo_has_no_fade()
    {
        Assert.False(Shares(Logo().Sized(60)).HasFades);
    }
}
