using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using static ProofDesk.Printing.Tests.Proofs.SmallPlates;

namespace ProofDesk.Printing.Tests.Screening;

/// <summary>The film as a press operator needs it (common practice).</summary>
public sealed class FilmSheetTests
{
    private const double Dpi = 300;
    private static readonly OutputDevice Device = OutputDevice.Fallback with { XDpi = Dpi, YDpi = Dpi };
    private static readonly bool[,] Code = Checks(21);

    private static bool[,] Checks(int n)
    {
        var code = new bool[n, n];
        for (var i = 0; i < n; i++)
        for (var j = 0; j < n; j++)
            code[i, j] = (i + j) % 2 == 0;
        return code;
    }

    private static FilmLabel Label(int screen, bool released = false) =>
        new("2041", "front", "3", screen, 2, "AB12-CD34", new string('a', 64), released);

    private static FilmSheet Sheet(Film film, int screen = 1, bool released = false, OutputDevice? device = null) =>
        FilmSheet.Of(film, device ?? Device, ScreenLayout.One, Label(screen, released), Code);

    private static Film Film(string name, Func<int, int, byte> tone, int width = 880) =>
        Films(Device, Plate(name, width, 400, tone)).Plates[0];

    private static BitPlane Bits(FilmSheet sheet) => Rows(sheet.ReadRows, sheet.Width, sheet.Height);

    private static int Px(double mm) => (int)Math.Round(mm * Dpi / 25.4);

    [Fact]
    public void The_image_stands_top_centre_at_the_pallet_distance_bit_for_bit()
    {
        var film = Film("Red", (x, y) => (byte)((x + y) % 256));
        var sheet = Sheet(film);

        var bits = Bits(sheet);

        Assert.Equal(Px(100), sheet.ImageTop);
        Assert.Equal(sheet.Width, 2 * sheet.ImageLeft + film.Width);
        var image = Rows(film.ReadRows, film.Width, film.Height);
        for (var y = 0; y < film.Height; y++)
        for (var x = 0; x < film.Width; x++)
            Assert.Equal(image[x, y], bits[sheet.ImageLeft + x, sheet.ImageTop + y]);
    }

    [Fact]
    public void Bands_of_any_height_give_the_same_sheet()
    {
        var sheet = Sheet(Film("Red", (x, y) => (byte)((x + y) % 256)));
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
    public void Register_marks_are_the_same_bits_on_every_plate_12_to_20_mm_outside()
    {
        var one = Sheet(Film("White base", (_, _) => 255), 1);
        var two = Sheet(Film("Red", (_, _) => 40), 2);

        var (a, b) = (Bits(one), Bits(two));

        foreach (var centre in (int[])[one.ImageTop - Px(16), one.ImageTop + one.ImageHeight + Px(16)])
        {
            var ink = 0;
            for (var y = centre - Px(6); y <= centre + Px(6); y++)
            for (var x = one.Width / 2 - Px(6.2); x <= one.Width / 2 + Px(6.2); x++)
            {
                Assert.Equal(a[x, y], b[x, y]);
                ink += a[x, y] ? 1 : 0;
            }
            // A cross of 2 x 12 mm and a circle of 25 mm round, one or two pixels wide.
            Assert.InRange(ink, 500, 1300);
            Assert.True(a[one.Width / 2, centre] || a[one.Width / 2 - 1, centre], "the centre of the cross is inked");
        }
    }

    [Fact]
    public void The_scale_bar_measures_200_mm_within_a_tenth_of_a_percent()
    {
        var sheet = Sheet(Film("Red", (_, _) => 0));
        var bits = Bits(sheet);

        // The bar lies 28 mm below the image: 16 to the mark, 6 of the mark, 3 of air, 3 of ticks.
        var y = sheet.ImageTop + sheet.ImageHeight + Px(28.15);
        var inked = Enumerable.Range(0, sheet.Width).Where(x => bits[x, y]).ToArray();

        Assert.Equal(200, (inked[^1] + 1 - inked[0]) / Dpi * 25.4, 0.2);
        Assert.Equal(inked.Length, inked[^1] + 1 - inked[0]);
    }

    [Fact]
    public void A_narrow_film_has_a_shorter_bar_and_room_for_the_label()
    {
        var sheet = Sheet(Film("Red", (_, _) => 0, width: 300));
        var bits = Bits(sheet);

        var y = sheet.ImageTop + sheet.ImageHeight + Px(28.15);
        var inked = Enumerable.Range(0, sheet.Width).Where(x => bits[x, y]).ToArray();

        Assert.Equal(150, sheet.Width / Dpi * 25.4, 0.2);
        Assert.Equal(120, (inked[^1] + 1 - inked[0]) / Dpi * 25.4, 0.2);
    }

    [Fact]
    public void An_early_export_says_so_outside_the_image_and_a_released_one_does_not()
    {
        var film = Film("Red", (_, _) => 100);
        var (early, released) = (Bits(Sheet(film)), Bits(Sheet(film, released: true)));
        var sheet = Sheet(film);

        var differing = new List<int>();
        for (var y = 0; y < early.Height; y++)
            if (!early.Row(y).SequenceEqual(released.Row(y)))
                differing.Add(y);

        Assert.NotEmpty(differing);
        Assert.All(
            differing,
            y =>
                Assert.False(
                    y >= sheet.ImageTop && y < sheet.ImageTop + sheet.ImageHeight,
                    $"row {y} of the image differs"
                )
        );
        Assert.True(BitRows.CountInk(early) > BitRows.CountInk(released));
    }

    [Fact]
    public void A_mirrored_film_is_the_film_seen_from_behind()
    {
        var film = Film("Red", (x, _) => (byte)(x / 4));
        var straight = Bits(Sheet(film));
        var mirrored = Bits(Sheet(film, device: Device with { Mirror = true }));

        for (var y = 0; y < straight.Height; y += 13)
        for (var x = 0; x < straight.Width; x++)
            Assert.Equal(straight[x, y], mirrored[straight.Width - 1 - x, y]);
    }

    [Fact]
    public void The_wedge_steps_hold_their_tones()
    {
        var sheet = Sheet(Film("Red", (_, _) => 0));
        var bits = Bits(sheet);

        var top = sheet.ImageTop + sheet.ImageHeight + Px(37);
        for (var step = 0; step <= 10; step++)
        {
            var left = (int)(sheet.Width / 2.0 + (step * 7.5 - 68) * Dpi / 25.4);
            var ink = 0;
            var all = 0;
            for (var y = top + 4; y < top + Px(7.5) - 4; y++)
            for (var x = left + 3; x < left + Px(7.5) - 3; x++)
            {
                all++;
                ink += bits[x, y] ? 1 : 0;
            }
            // A step holds about 10 x 10 cells: cut cells at its edge cost up to 3 %.
            Assert.Equal(10 * step, 100.0 * ink / all, 3.0);
        }
    }

    [Fact]
    public void The_label_names_everything_and_never_says_approved()
    {
        var film = Film("White base", (_, _) => 255);

        var lines = Label(1).Lines(film, Device, ScreenLayout.One).ToArray();

        Assert.Equal("ORDER 2041  PRINT front  VERSION 3", lines[0]);
        Assert.Equal("SCREEN 1 OF 2: White base", lines[1]);
        Assert.Equal("INK Red, 1 STROKE", lines[2]);
        Assert.StartsWith("MESH 61-64  ", lines[3], StringComparison.Ordinal);
        Assert.Equal("220.0 X 100.0 MM AT 300 X 300 DPI, 1:1", lines[4]);
        Assert.Equal("DEVICE fallback film recorder  FRAME usual", lines[5]);
        Assert.Equal("DOTS BOUND", lines[6]);
        Assert.Equal("CODE AB12-CD34  SHA-256 OF THE IMAGE AREA:", lines[7]);
        Assert.Equal(new string('a', 64), lines[8] + lines[9]);
        Assert.DoesNotContain(lines, l => l.Contains("approved", StringComparison.OrdinalIgnoreCase));
        var theirs = Device with { HandOver = HandOver.DotsTheirs };
        var asked = Label(1).Lines(film, theirs, ScreenLayout.One).ToArray();
        Assert.Equal("MESH 61-64  35.0 LPI  22.5 DEG  ROUND", asked[3]);
        Assert.Equal("TONES BOUND, DOTS SIMULATED", asked[6]);
    }

    [Fact]
    public void A_tone_sheet_carries_the_plates_tones_at_the_films_place()
    {
        var film = Film("Red", (x, y) => (byte)((x * 3 + y) % 256));
        var theirs = Device with { HandOver = HandOver.DotsTheirs };

        var sheet = ToneSheet.Of(film, theirs, PixelsPerMm, ScreenLayout.One, Label(1), Code);

        var tone = film.Plate.Tone;
        for (var y = 0; y < tone.Height; y++)
            Assert.True(
                sheet.Tones.Row(sheet.ImageTop + y).Slice(sheet.ImageLeft, tone.Width).SequenceEqual(tone.Row(y))
            );
        Assert.Equal(400, sheet.ImageTop);
    }

    [Fact]
    public void Every_printable_letter_has_strokes()
    {
        var letters = Enumerable.Range(' ' + 1, '~' - ' ').Select(c => (char)c).Where(char.IsAsciiLetterOrDigit);

        Assert.All(letters, c => Assert.NotEmpty(StrokeFont.Of(c)));
        Assert.Equal(62, letters.Select(c => string.Join(' ', StrokeFont.Of(c).SelectMany(s => s))).Distinct().Count());
        Assert.Equal("Lindhag aou", StrokeFont.Plain("Lindh\u00e5g \u00e4\u00f6\u00fc"));
    }
}
