using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using static ProofDesk.Printing.Tests.Presses.PressBench;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>Same recipe, same bytes; and what a print costs.</summary>
public class PrintRecipeTests
{
    [Fact]
    public void The_same_recipe_gives_the_same_bytes()
    {
        var films = ThreeColours(Px(30), Px(60));

        var first = films.PrintOn(Black, PressSettings.Automatic);
        var second = films.PrintOn(Black, PressSettings.Automatic);

        AssertSame(first, second);
    }

    [Fact]
    public void One_core_and_all_cores_give_the_same_bytes()
    {
        var films = ThreeColours(Px(30), Px(60));

        var all = films.PrintOn(Heather, PressSettings.Automatic);
        var one = PrintSimulator.Print(
            films,
            films.On(Heather),
            PressSettings.Automatic,
            Deposit.Expected,
            ViewingLight.D50,
            1,
            null,
            null,
            1,
            default
        );

        AssertSame(all, one);
        Assert.Equal(all.OutOfGamutShare, one.OutOfGamutShare);
        Assert.Equal(all.OutOfGamutMaxDeltaE, one.OutOfGamutMaxDeltaE);
    }

    [Fact]
    public void Another_seed_is_another_shirt()
    {
        var films = ThreeColours(Px(20), Px(20));

        var first = films.PrintOn(Black, PressSettings.Automatic);
        var second = films.PrintOn(Black, PressSettings.Automatic, seed: 2);

        Assert.NotEqual(first.Press!.Plates[0].DxMm, second.Press!.Plates[0].DxMm);
        Assert.False(first.Print.Pixels.AsSpan().SequenceEqual(second.Print.Pixels));
    }

    [Fact]
    public void Flipping_a_block_of_bits_changes_the_picture_there_and_nowhere_else()
    {
        var size = Px(30);
        var bits = Halftone(size, size, 45, 0.4);
        var flipped = new BitPlane(size, size);
        bits.Words.CopyTo(flipped.Words, 0);
        for (var y = Px(12); y < Px(14); y++)
        for (var x = Px(15); x < Px(18); x++)
            flipped[x, y] = !flipped[x, y];
        var before = Films((Spot("red"), bits)).PrintOn(White, PressSettings.Automatic);
        var after = Films((Spot("red"), flipped)).PrintOn(White, PressSettings.Automatic);

        var inside = 0;
        // Register, lost dots and growth reach less than 0.7 mm, light spreads 4 x 0.17 mm.
        var (left, right) = (Pixel(before, 15 - 1.4), Pixel(before, 18 + 1.4));
        var (top, bottom) = (Pixel(before, 12 - 1.4), Pixel(before, 14 + 1.4));
        for (var y = 0; y < before.Print.Height; y++)
        for (var x = 0; x < before.Print.Width; x++)
        {
            var at = 3 * (y * before.Print.Width + x);
            if (before.Print.Pixels.AsSpan(at, 3).SequenceEqual(after.Print.Pixels.AsSpan(at, 3)))
                continue;
            Assert.True(x >= left && x <= right && y >= top && y <= bottom, $"pixel {x}, {y} changed");
            inside++;
        }
        Assert.True(inside > 100, $"{inside} pixels changed");
    }

    [Fact]
    public void Ink_lands_where_the_press_record_says()
    {
        var size = Px(30);
        var dot = Drawn(size, size, (x, y) => Math.Abs(x - size / 2) < Px(4) && Math.Abs(y - size / 2) < Px(4));
        var press = PressSettings.Automatic with { SetUpSigmaMm = 0.4 };

        var printed = Films((Spot("black"), dot)).PrintOn(White, press, seed: 5);

        double sum = 0,
            sumX = 0,
            sumY = 0;
        for (var y = 0; y < printed.InkMask.Height; y++)
        for (var x = 0; x < printed.InkMask.Width; x++)
        {
            double ink = printed.InkMask[x, y];
            (sum, sumX, sumY) = (sum + ink, sumX + ink * (x + 0.5), sumY + ink * (y + 0.5));
        }
        var scale = printed.Print.PixelsPerMm;
        var record = printed.Press!.Plates[0];
        Assert.Equal(record.DxMm, sumX / sum / scale - printed.MarginMm - size / 2 / PxPerMm, 0.03);
        Assert.Equal(record.DyMm, sumY / sum / scale - printed.MarginMm - size / 2 / PxPerMm, 0.03);
        Assert.True(Math.Abs(record.DxMm) + Math.Abs(record.DyMm) > 0.1);
    }

    [Fact]
    public void Head_by_head_the_last_print_is_the_proof()
    {
        var films = ThreeColours(Px(20), Px(20));

        var all = films.PrintOn(Black, PressSettings.Automatic);
        var last = films.PrintOn(Black, PressSettings.Automatic, afterScreens: 3);
        var first = films.PrintOn(Black, PressSettings.Automatic, afterScreens: 1);

        AssertSame(all, last);
        Assert.Equal(1, first.AfterScreens);
        Assert.Equal("white", Assert.Single(first.Press!.Plates).Plate);
    }

    [Fact]
    public void Asking_for_more_screens_than_run_says_how_many_do()
    {
        var films = ThreeColours(Px(5), Px(5));

        var error = Assert.Throws<ArgumentException>(() => films.PrintOn(Black, afterScreens: 4));

        Assert.Equal(
            "3 screens run on tee/black, so a print after screen 4 does not exist; ask for 0 to 3",
            error.Message
        );
    }

    [Fact]
    public void A_print_can_be_cancelled_between_bands()
    {
        var films = ThreeColours(Px(20), Px(200));
        using var source = new CancellationTokenSource();
        var seen = new List<double>();
        var progress = new Immediate(done =>
        {
            seen.Add(done);
            source.Cancel();
        });

        Assert.Throws<OperationCanceledException>(() =>
            PrintSimulator.Print(
                films,
                films.On(Black),
                Still,
                Deposit.Expected,
                ViewingLight.D50,
                1,
                null,
                progress,
                source.Token
            )
        );

        Assert.InRange(Assert.Single(seen), 0.01, 0.99);
    }

    // What is held while printing is the ring of bands and the planes of each core; only the picture grows: 3 bytes of
    // colour, 1 of ink share and 1/8 of gamut mask a pixel.
    [Fact]
    public void Memory_does_not_grow_with_the_height_except_by_the_picture()
    {
        long Allocated(Films films)
        {
            var before = GC.GetAllocatedBytesForCurrentThread();
            PrintSimulator.Print(
                films,
                films.On(Black),
                Still,
                Deposit.Expected,
                ViewingLight.D50,
                1,
                null,
                null,
                1,
                default
            );
            return GC.GetAllocatedBytesForCurrentThread() - before;
        }
        var plate = Spot("red");
        var low = Films((plate, Halftone(Px(40), Px(150), 45, 0.5)));
        var high = Films((plate, Halftone(Px(40), Px(300), 45, 0.5)));
        Allocated(low);

        // Other tests empty the pools of buffers now and then: the least of a few tries is what printing itself takes.
        var growth = Enumerable.Range(0, 4).Min(_ => Allocated(high)) - Enumerable.Range(0, 4).Min(_ => Allocated(low));

        var pixels = 64 / 25.4 * 240 * (150 / 25.4 * 240);
        // Kernels may take a few rows a band; 30 % of the picture is far below one more plane of film.
        Assert.InRange(growth, 0, 1.3 * 4.125 * pixels);
    }

    [Theory]
    [InlineData(720, 1440, 240)]
    [InlineData(600, 600, 200)]
    [InlineData(360, 360, 360)]
    [InlineData(2540, 1270, 254)]
    [InlineData(1200, 1440, 240)]
    public void Picture_pixels_are_square_whatever_the_device(double xDpi, double yDpi, double pictureDpi)
    {
        var device = OutputDevice.Fallback with { XDpi = xDpi, YDpi = yDpi };
        var films = Films(device, (Spot("red"), Solid((int)(xDpi / 2), (int)(yDpi / 2))));

        var printed = films.PrintOn(White);

        Assert.Equal(pictureDpi / 25.4, printed.Print.PixelsPerMm, 1e-9);
        var margin = (int)Math.Round(printed.MarginMm * printed.Print.PixelsPerMm);
        Assert.Equal((int)pictureDpi / 2, printed.Print.Width - 2 * margin);
        Assert.Equal((int)pictureDpi / 2, printed.Print.Height - 2 * margin);
    }

    [Fact]
    public void A_device_without_square_pixels_is_refused_with_both_numbers()
    {
        var device = OutputDevice.Fallback with { Name = "odd", XDpi = 1013, YDpi = 1440 };

        var error = Assert.Throws<ArgumentException>(() => Films(device, (Spot("red"), Solid(99, 99))).PrintOn(White));

        Assert.Equal(
            "device \"odd\" writes 1013 x 1440 dpi: no whole numbers of its dots make a square of 1/300 to 1/200 inch; check the two numbers in the device's record",
            error.Message
        );
    }

    [Fact]
    public void The_loupe_shows_the_dots_of_the_same_print()
    {
        var size = Px(20);
        var films = Films((Spot("mid-grey"), Halftone(size, size, 35, 0.5)));
        var printed = films.PrintOn(White, PressSettings.Automatic);

        var loupe = Loupe.Look(
            films,
            films.On(White),
            PressSettings.Automatic,
            Deposit.Expected,
            ViewingLight.D50,
            1,
            5,
            6,
            8,
            7
        );

        Assert.Equal((Px(8), Px(7)), (loupe.Width, loupe.Height));
        double sum = 0;
        foreach (var value in loupe.Pixels)
            sum += Srgb.Decode(value / 255.0);
        var print = printed.Mean(5, 6, 13, 13);
        Assert.Equal((print.R + print.G + print.B) / 3, sum / loupe.Pixels.Length, 0.006);
    }

    [Fact]
    public void The_loupe_refuses_what_the_picture_shows_better()
    {
        var films = ThreeColours(Px(5), Px(5));

        var error = Assert.Throws<ArgumentException>(() =>
            Loupe.Look(films, films.On(Black), Still, Deposit.Expected, ViewingLight.D50, 1, 0, 0, 50, 10)
        );

        Assert.Equal("the loupe shows up to 40 x 40 mm; 50 x 10 mm asked for", error.Message);
    }

    private static Films ThreeColours(int width, int height) =>
        Films(
            (Base(), Drawn(width, height, (x, y) => x > 100 && y > 100 && x < width - 100 && y < height - 100)),
            (Spot("red"), Halftone(width, height, 45, 0.6)),
            (Spot("bright-yellow"), Drawn(width, height, (x, y) => (x / 300 + y / 200) % 3 == 0))
        );

    private static void AssertSame(PrintedCloth a, PrintedCloth b)
    {
        Assert.True(a.Print.Pixels.AsSpan().SequenceEqual(b.Print.Pixels));
        Assert.True(a.InkMask.Pixels.AsSpan().SequenceEqual(b.InkMask.Pixels));
        Assert.True(a.OutOfGamut.Words.AsSpan().SequenceEqual(b.OutOfGamut.Words));
    }

    private sealed class Immediate(Action<double> report) : IProgress<double>
    {
        public void Report(double value) => report(value);
    }
}
