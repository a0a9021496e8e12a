using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Artworks;

public class ArtSizingTests
{
    /// <summary>A red ring with a white middle on a white sheet, as a JPEG would carry it.</summary>
    private static TestArt RingOnWhite() =>
        TestArt.On(300, 300, "#ffffff").Disc("#c8102e", 150, 150, 120).Disc("#ffffff", 150, 150, 60);

    private static Finding Finding(SizedArt art, string code) => Assert.Single(art.Findings, f => f.Code == code);

    [Fact]
    public void The_width_given_is_the_inked_extent_never_the_canvas()
    {
        var art = new TestArt(400, 300).Rectangle("#c8102e", 100, 50, 300, 150).Sized(50);

        Assert.Equal((50, 25), (art.WidthMm, art.HeightMm));
        Assert.Equal((200, 100, 100, 50), (art.Pixels.Width, art.Pixels.Height, art.CropLeft, art.CropTop));
        Assert.Equal(
            new Finding(
                "cropped",
                FindingWeight.Note,
                "the canvas of 400 x 300 px is cropped to its inked extent of 200 x 100 px, which prints 50 x 25 mm; the whole canvas would be 100 x 75 mm",
                "nothing, if the drawing itself is to be 50 mm wide",
                25,
                null,
                "mm"
            ),
            Finding(art, "cropped")
        );
    }

    [Fact]
    public void Too_few_pixels_are_told_in_the_words_of_the_trade()
    {
        var art = TestArt.On(898, 400, "#c8102e").Sized(300);

        Assert.Equal(
            new Finding(
                "too-few-pixels",
                FindingWeight.Warning,
                "artwork is 76 dpi at 300 mm wide, screen print needs 150",
                "supply at least 1772 px, or place it 152 mm wide",
                76,
                150,
                "dpi"
            ),
            Finding(art, "too-few-pixels")
        );
    }

    [Fact]
    public void Vector_art_never_has_too_few_pixels()
    {
        var artwork = TestArt.On(100, 100, "#c8102e").Artwork(isVector: true);

        Assert.DoesNotContain(
            ArtSizing.Size(artwork, 300, BackgroundChoice.Print).Findings,
            f => f.Code == "too-few-pixels"
        );
    }

    [Fact]
    public void Opaque_art_raises_the_question_of_its_background()
    {
        var art = RingOnWhite().Sized(40, BackgroundChoice.AsGiven);

        Assert.Equal(
            new Finding(
                "opaque-background",
                FindingWeight.Warning,
                "the art has no transparency: its whole rectangle would be printed; 100 % of its border is #ffffff",
                "drop the background #ffffff so that the cloth shows, or say that it is to be printed"
            ),
            Finding(art, "opaque-background")
        );
        Assert.Equal(300, art.Pixels.Width);
    }

    [Fact]
    public void A_printed_background_stays_whole_and_raises_no_question()
    {
        var art = RingOnWhite().Sized(40, BackgroundChoice.Print);

        Assert.Equal((300, 300), (art.Pixels.Width, art.Pixels.Height));
        Assert.DoesNotContain(art.Findings, f => f.Code == "opaque-background");
    }

    [Fact]
    public void A_dropped_background_leaves_enclosed_white_alone()
    {
        var art = RingOnWhite().Sized(40, BackgroundChoice.Drop);

        Assert.Equal((240, 240), (art.Pixels.Width, art.Pixels.Height));
        Assert.Equal(0, art.Pixels.Row(2)[3]);
        var middle = art.Pixels.Row(120).Slice(4 * 120, 4);
        Assert.Equal([65535, 65535, 65535, 65535], middle.ToArray());
    }

    // A JPEG at quality 80 rings up to 60 codes beside black; here the ringing is painted.
    [Fact]
    public void Compression_noise_around_the_drawing_goes_with_the_dropped_background()
    {
        var noise = new[] { (20, 30), (21, 30), (60, 12), (61, 13), (112, 102), (22, 90) };
        var art = TestArt
            .On(140, 140, "#ffffff")
            .Disc("#000000", 70, 70, 50)
            .Disc("#ffffff", 70, 70, 3)
            .Paint((x, y) => ("#d8d8d8", noise.Contains((x, y)) ? 1 : 0))
            .Sized(40, BackgroundChoice.Drop);

        Assert.DoesNotContain(art.Findings, f => f.Code == "specks");
        for (var i = 0; i < art.Pixels.Width * art.Pixels.Height; i++)
            if (art.Pixels.Pixels[4 * i + 3] > 3000 && art.Pixels.Pixels[4 * i] > 20_000)
                Assert.InRange(Math.Abs(i % art.Pixels.Width - art.Pixels.Width / 2), 0, 4);
    }

    [Fact]
    public void The_edge_against_a_dropped_background_becomes_alpha_of_the_drawings_own_colour()
    {
        var art = RingOnWhite().Sized(40, BackgroundChoice.Drop);

        // Alpha adds up to the disc's area (pi 120^2 less the chords' loss), and no pixel is pink.
        var area = 0.0;
        for (var i = 0; i < 240 * 240; i++)
            area += art.Pixels.Pixels[4 * i + 3] / 65535.0;
        Assert.InRange(area, Math.PI * 120 * 120 - 60, Math.PI * 120 * 120 + 30);
        var edge = Enumerable.Range(0, 240 * 240).Where(i => art.Pixels.Pixels[4 * i + 3] is > 3000 and < 60000);
        Assert.All(edge, i => Assert.True(art.Pixels.Pixels[4 * i + 1] < 1000));
    }

    [Fact]
    public void A_fade_into_a_dropped_background_becomes_a_fade_to_nothing()
    {
        var art = TestArt
            .On(600, 200, "#ffffff")
            .Paint((x, y) => ("#c8102e", y is > 20 and < 180 ? Math.Clamp((x - 50) / 400.0, 0, x < 560 ? 1 : 0) : 0))
            .Sized(60, BackgroundChoice.Drop);

        // Half way along the fade: half the ink, in full red.
        var at = art.Pixels.Row(80).Slice(4 * (250 - art.CropLeft), 4);
        Assert.InRange(at[3] / 65535.0, 0.42, 0.58);
        Assert.InRange(at[1], 0, 2500);
    }

    [Fact]
    public void A_background_that_is_not_plain_cannot_be_dropped()
    {
        var art = new TestArt(200, 200).Paint((x, y) => ($"#{x:x2}{y:x2}80", 1)).Sized(40, BackgroundChoice.Drop);

        Assert.Equal(FindingWeight.Warning, Finding(art, "background-not-plain").Weight);
        Assert.Equal(
            "supply art with a transparent background, or print the background",
            Finding(art, "background-not-plain").NextStep
        );
    }

    [Fact]
    public void A_picture_that_is_all_background_has_nothing_to_print()
    {
        var art = TestArt.On(50, 40, "#ffffff").Sized(40, BackgroundChoice.Drop);

        Assert.Equal(
            new Finding(
                "nothing-to-print",
                FindingWeight.Refusal,
                "the art has no inked pixel: all 50 x 40 px are transparent once the background is dropped",
                "print the background, or supply art that differs from it"
            ),
            Finding(art, "nothing-to-print")
        );
    }

    [Fact]
    public void Soft_transparency_is_measured_and_an_antialiased_edge_is_not_soft()
    {
        var hard = new TestArt(300, 300).Disc("#c8102e", 150, 150, 140).Sized(40);
        var soft = new TestArt(300, 100)
            .Rectangle("#c8102e", 0, 0, 150, 100)
            .Rectangle("#c8102e", 150, 0, 300, 100, 0.5)
            .Sized(40);

        Assert.DoesNotContain(hard.Findings, f => f.Code == "semi-transparent");
        Assert.Equal(
            "49.7 % of the art is semi-transparent: it prints as halftone dots",
            Finding(soft, "semi-transparent").Message
        );
    }

    [Fact]
    public void Specks_are_counted()
    {
        var art = new TestArt(400, 200)
            .Disc("#c8102e", 100, 100, 80)
            .Disc("#c8102e", 300, 50, 0.9)
            .Disc("#c8102e", 320, 150, 0.9);

        Assert.Equal("2 isolated specks are smaller than 0.5 mm", Finding(art.Sized(40), "specks").Message);
    }

    [Fact]
    public void Art_finer_than_a_film_shows_is_averaged_down_without_losing_ink()
    {
        var art = new TestArt(1500, 1500).Disc("#c8102e", 750, 750, 700).Sized(20);

        Assert.Equal(600, art.Dpi, 2.0);
        var area =
            art.Pixels.Pixels.Where((_, i) => i % 4 == 3).Sum(a => a / 65535.0) / art.PixelsPerMm / art.PixelsPerMm;
        Assert.Equal(Math.PI * 100, area, 0.5);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-3)]
    [InlineData(double.NaN)]
    public void A_width_that_is_no_width_is_a_mistake_of_the_caller(double mm) =>
        Assert.Throws<ArgumentException>(() => RingOnWhite().Sized(mm));
}
