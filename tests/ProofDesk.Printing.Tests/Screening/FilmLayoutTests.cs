using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using static ProofDesk.Printing.Tests.Proofs.SmallPlates;

namespace ProofDesk.Printing.Tests.Screening;

/// <summary>Several images on a screen, pixels that are not square, stretched and mirrored films.</summary>
public sealed class FilmLayoutTests
{
    private static readonly OutputDevice Device = OutputDevice.Fallback with { XDpi = 360, YDpi = 300 };
    private static readonly ScreenLayout Four = new(2, 2, 20);
    private static readonly bool[,] Code = new bool[21, 21];

    private static FilmLabel Label(int screen, bool released = true) =>
        new("2041", "front", "3", screen, 2, "AB12-CD34", new string('a', 64), released);

    private static FilmSheet Sheet(
        string name,
        OutputDevice? device = null,
        ScreenLayout? layout = null,
        bool released = true
    )
    {
        var films = Films(device ?? Device, Plate(name, 160, 120, (x, y) => (byte)((x + 2 * y) % 256)));
        return FilmSheet.Of(films.Plates[0], device ?? Device, layout ?? Four, Label(1, released), Code);
    }

    private static BitPlane Bits(FilmSheet sheet) => Rows(sheet.ReadRows, sheet.Width, sheet.Height);

    [Fact]
    public void Every_image_of_a_screen_is_the_same_bits()
    {
        var sheet = Sheet("Red");
        var bits = Bits(sheet);

        for (var y = 0; y < sheet.ImageHeight; y++)
        for (var x = 0; x < sheet.ImageWidth; x++)
        {
            var first = bits[sheet.ImageLeft + x, sheet.ImageTop + y];
            Assert.Equal(first, bits[sheet.ImageLeft + sheet.Step.X + x, sheet.ImageTop + y]);
            Assert.Equal(first, bits[sheet.ImageLeft + x, sheet.ImageTop + sheet.Step.Y + y]);
            Assert.Equal(first, bits[sheet.ImageLeft + sheet.Step.X + x, sheet.ImageTop + sheet.Step.Y + y]);
        }
        // 40 x 30 mm and 20 mm between them.
        Assert.Equal(60, sheet.Step.X / 360.0 * 25.4, 0.04);
        Assert.Equal(50, sheet.Step.Y / 300.0 * 25.4, 0.05);
        Assert.Equal(sheet.Width, 2 * sheet.ImageLeft + sheet.Step.X + sheet.ImageWidth);
    }

    [Fact]
    public void Bands_of_any_height_give_the_same_screen()
    {
        var sheet = Sheet("Red", Device with { Mirror = true });
        var whole = Bits(sheet);

        for (var top = 0; top < sheet.Height; top += 77)
        {
            var band = new BitPlane(sheet.Width, 77);
            sheet.ReadRows(top, band);
            for (var y = 0; y < 77 && top + y < sheet.Height; y++)
                Assert.True(band.Row(y).SequenceEqual(whole.Row(top + y)), $"row {top + y}");
        }
    }

    [Fact]
    public void Each_image_has_its_centre_marked_and_the_register_marks_are_shared()
    {
        var (one, two) = (Bits(Sheet("Red")), Bits(Sheet("Green with a longer name")));
        var sheet = Sheet("Red");

        foreach (var column in (int[])[0, 1])
        foreach (var y in (int[])[sheet.ImageTop - Down(5), sheet.ImageTop + sheet.ImageHeight + Down(10)])
        {
            var centre = sheet.ImageLeft + column * sheet.Step.X + sheet.ImageWidth / 2;
            Assert.True(one[centre, y] || one[centre - 1, y], $"no centre mark at {centre}, {y}");
        }
        var bottom = sheet.ImageTop + sheet.BlockHeight;
        foreach (var centre in (int[])[sheet.ImageTop - Down(16), bottom + Down(16)])
            for (var y = centre - Down(6); y <= centre + Down(6); y++)
            for (var x = sheet.Width / 2 - Across(6.2); x <= sheet.Width / 2 + Across(6.2); x++)
                Assert.Equal(one[x, y], two[x, y]);
    }

    [Fact]
    public void The_label_says_how_many_and_whose_digest_it_is()
    {
        var film = Films(Device, Plate("Red", 160, 120, (_, _) => 128)).Plates[0];

        var lines = Label(1).Lines(film, Device, Four).ToArray();

        Assert.Equal("40.0 X 30.0 MM AT 360 X 300 DPI, 1:1", lines[4]);
        Assert.Equal("4 IMAGES, 2 X 2, 20 MM APART, ONE A SHIRT", lines[5]);
        Assert.Equal("CODE AB12-CD34  SHA-256 OF ONE IMAGE:", lines[8]);
    }

    [Fact]
    public void The_digest_is_that_of_one_image_whatever_the_layout()
    {
        var films = Films(Device, Plate("Red", 160, 120, (x, _) => (byte)x));

        Assert.Equal(
            FilmMeasure.Of(films.Plates[0], Device),
            FilmMeasure.Of((films with { Layout = Four }).Plates[0], Device)
        );
    }

    [Fact]
    public void Pixels_that_are_not_square_leave_every_measure_true()
    {
        var wide = OutputDevice.Fallback with { XDpi = 720, YDpi = 360 };
        var films = Films(wide, Plate("Red", 880, 400, (_, _) => 128));
        var sheet = FilmSheet.Of(films.Plates[0], wide, ScreenLayout.One, Label(1), Code);
        var bits = Bits(sheet);

        Assert.Equal(
            (220, 100),
            (Math.Round(sheet.ImageWidth / 720.0 * 25.4), Math.Round(sheet.ImageHeight / 360.0 * 25.4))
        );
        var y = sheet.ImageTop + sheet.ImageHeight + (int)Math.Round(28.15 / 25.4 * 360);
        var inked = Enumerable.Range(0, sheet.Width).Where(x => bits[x, y]).ToArray();
        Assert.Equal(200, (inked[^1] + 1 - inked[0]) / 720.0 * 25.4, 0.2);
        Assert.Equal(50, FilmMeasure.Of(films.Plates[0], wide).CoveragePercent, 0.5);
    }

    [Fact]
    public void A_stretched_film_has_more_pixels_to_the_millimetre_and_the_devices_own_resolution()
    {
        var plate = Plate("Red", 880, 400, (_, _) => 128);
        var stretched = (OutputDevice.Fallback with { XDpi = 720, YDpi = 720 }).Stretched(0.5, -0.25);
        var films = Films(stretched, plate);

        Assert.Equal(Math.Round(220 / 25.4 * 720 * 1.005), films.Width);
        Assert.Equal(Math.Round(100 / 25.4 * 720 * 0.9975), films.Height);
        Assert.Equal((720, 720), (stretched.OwnXDpi, stretched.OwnYDpi));
        // The dots are made for it: tone, ruling and area of the print stay.
        var measure = FilmMeasure.Of(films.Plates[0], stretched);
        Assert.Equal(50, measure.CoveragePercent, 0.5);
        Assert.Equal(110, measure.AreaCm2, 1.0);
        Assert.Equal(35, films.Plates[0].TrueScreen.LinesPerInch, 0.15);
        Assert.Contains(
            "DRAWN +0.50 % WIDE, -0.25 % HIGH FOR THIS DEVICE",
            Label(1).Lines(films.Plates[0], stretched, ScreenLayout.One)
        );
    }

    [Fact]
    public void A_corrected_device_is_asked_for_the_opposite_and_its_wedge_too()
    {
        var tones = new DeviceTones([0, 16, 28, 40, 50, 60, 69, 78, 86, 93, 100]);
        var plate = Plate("Red", 160, 120, (x, _) => (byte)(x < 80 ? 128 : 255));

        var film = Films(Device with { Tones = tones }, plate).Plates[0];

        Assert.Equal(tones.Asked(128), film.Plate.Tone[10, 10]);
        Assert.Equal(255, film.Plate.Tone[100, 10]);
        Assert.Equal(40, 100.0 * film.Plate.Tone[10, 10] / 255, 1.0);
        Assert.Equal(tones.Asked(128), FilmMarks.WedgeTone(5, tones), 1.0);
    }

    [Theory]
    [InlineData(false, true)]
    [InlineData(true, true)]
    [InlineData(true, false)]
    public void A_stored_film_stamped_afterwards_is_the_film_that_was_never_released(bool mirror, bool one)
    {
        var device = Device with { Mirror = mirror };
        var layout = one ? ScreenLayout.One : Four;
        var (early, stored) = (Sheet("Red", device, layout, released: false), Sheet("Red", device, layout));
        var bits = Bits(stored);

        FilmStamp.NotReleased(bits, stored.ImageTop, stored.ImageTop + stored.BlockHeight, 360, 300, mirror);

        Assert.Equal(Bits(early).Words, bits.Words);
    }

    [Fact]
    public void A_long_name_goes_on_in_the_next_line_and_nothing_is_cut()
    {
        var name = "A very long plate name that no narrow film has room for on one line";

        var lines = FilmLabel.Wrapped([$"SCREEN 1 OF 2: {name}", "SHORT"], 40).ToArray();

        Assert.Equal(
            ["SCREEN 1 OF 2: A very long plate name", "  that no narrow film has room for on", "  one line", "SHORT"],
            lines
        );
        Assert.All(lines, line => Assert.True(line.Length <= 40));
    }

    private static int Across(double mm) => (int)Math.Round(mm * 360 / 25.4);

    private static int Down(double mm) => (int)Math.Round(mm * 300 / 25.4);
}
