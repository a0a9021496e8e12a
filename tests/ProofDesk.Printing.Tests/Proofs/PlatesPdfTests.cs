using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using static ProofDesk.Printing.Tests.Proofs.SmallPlates;

namespace ProofDesk.Printing.Tests.Proofs;

/// <summary>plates.pdf read back by Ghostscript and qpdf.</summary>
public sealed class PlatesPdfTests : IDisposable
{
    private static readonly OutputDevice Tones = OutputDevice.Fallback with { HandOver = HandOver.DotsTheirs };
    private static readonly OutputDevice Dots = OutputDevice.Fallback with { XDpi = 360, YDpi = 360 };

    private readonly string _folder = Directory.CreateTempSubdirectory("proofdesk-pdf-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    private string Pdf(Films films)
    {
        var path = Path.Combine(_folder, "plates.pdf");
        using var stream = File.Create(path);
        PlatesPdf.Write(stream, films, [.. films.Plates.Select(_ => new LinearRgb(0.6, 0.05, 0.05))], "two inks");
        return path;
    }

    private string Separate(string pdf, int dpi) =>
        Run(
            "gs",
            "-dNOPAUSE",
            "-dBATCH",
            "-dSAFER",
            "-dUseTrimBox",
            "-sDEVICE=tiffsep",
            $"-r{dpi}",
            $"-sOutputFile={Path.Combine(_folder, "s.tif")}",
            pdf
        );

    /// <summary>255 = no ink, as tiffsep writes it.</summary>
    private byte[] Plane(string plate)
    {
        var raw = Path.Combine(_folder, "plane.gray");
        Run("convert", Path.Combine(_folder, $"s({plate}).tif"), "-depth", "8", $"gray:{raw}");
        return File.ReadAllBytes(raw);
    }

    /// <summary>Physics F1: tint 1.0 -> 0, .8 -> 51, .6 -> 102, .5 -> 128 (+-1), .4 -> 153, .25 -> 192, .2 -> 204.</summary>
    [SkippableFact]
    public void Ghostscript_finds_each_tint_on_the_plate_of_its_ink()
    {
        double[] tints = [1, 0.8, 0.6, 0.5, 0.4, 0.25, 0.2, 0];
        int[] expected = [0, 51, 102, 128, 153, 192, 204, 255];
        var steps = Plate("Spot Green 7", 64, 8, (x, _) => (byte)Math.Round(255 * tints[x / 8]));
        var bar = Plate("Orange #2 (warm)", 64, 8, (_, y) => (byte)(y < 4 ? 255 : 0));

        Separate(Pdf(Films(Tones, steps, bar)), 72);

        // 64 px at 4 px/mm are 16 mm, 45 px at 72 dpi: a step is 5.67 px.
        var green = Plane("Spot Green 7");
        var width = green.Length / 6;
        for (var i = 0; i < tints.Length; i++)
            Assert.Equal(expected[i], green[2 * width + (int)((i + 0.5) * width / tints.Length)], 1.0);
        // Overprint: green stays under the orange bar, and orange is on its own plate only.
        var orange = Plane("Orange #2 (warm)");
        Assert.Equal(0, orange[width]);
        Assert.Equal(255, orange[5 * width]);
        Assert.Equal(0, green[width], 1.0);
        foreach (var process in (string[])["Cyan", "Magenta", "Yellow", "Black"])
            Assert.All(Plane(process), v => Assert.Equal(255, v));
    }

    [SkippableFact]
    public void Ghostscript_reads_back_the_very_film_bits()
    {
        var films = Films(Dots, Plate("Red", 80, 60, (x, y) => (byte)(3 * x + y / 4)));
        var film = films.Plates[0];

        Separate(Pdf(films), 360);

        var bits = Rows(film.ReadRows, film.Width, film.Height);
        var plane = Plane("Red");
        Assert.Equal((long)film.Width * film.Height, plane.LongLength);
        for (var y = 0; y < film.Height; y++)
        for (var x = 0; x < film.Width; x++)
            Assert.Equal(bits[x, y] ? 0 : 255, plane[y * film.Width + x]);
    }

    /// <summary>Physics F2: the mean of a 1-bit plate is its tone.</summary>
    [SkippableFact]
    public void The_mean_of_a_separated_film_is_its_coverage()
    {
        var films = Films(Dots, Plate("Red", 160, 120, (_, _) => 102));
        var measure = FilmMeasure.Of(films.Plates[0], Dots);

        Separate(Pdf(films), 360);

        var mean = Plane("Red").Average(v => 255.0 - v) / 255 * 100;
        Assert.Equal(measure.CoveragePercent, mean, 0.01);
        Assert.Equal(40, mean, 0.5);
    }

    [SkippableFact]
    public void Qpdf_finds_nothing_wrong_and_the_boxes_are_the_print()
    {
        var pdf = Pdf(Films(Dots, Plate("Red", 80, 60, (_, _) => 200), Plate("Blue/2", 80, 60, (_, _) => 100)));

        var said = Run("qpdf", "--check", pdf);
        var info = Run("pdfinfo", "-box", pdf);

        Assert.Contains("No syntax or stream encoding errors found", said, StringComparison.Ordinal);
        // 20 x 15 mm at 360 dpi are 283 x 213 px, 56.6 x 42.6 points.
        Assert.Matches(@"TrimBox:\s+0\.00\s+0\.00\s+56\.60\s+42\.60", info);
        // 22 mm of marks and 3 of air above, marks and three lines of text below, a film of 150 mm across.
        Assert.Matches(@"MediaBox:\s+-184\.40\s+-107\.80\s+241\.00\s+113\.60", info);
        Assert.Contains("PDF version:     1.7", info, StringComparison.Ordinal);
    }

    [SkippableFact]
    public void Register_marks_stand_on_every_separation_outside_the_image()
    {
        var films = Films(Dots, Plate("Red", 80, 60, (_, _) => 255), Plate("Blue", 80, 60, (_, _) => 0));
        var pdf = Pdf(films);
        Run(
            "gs",
            "-dNOPAUSE",
            "-dBATCH",
            "-dSAFER",
            "-sDEVICE=tiffsep",
            "-r360",
            $"-sOutputFile={Path.Combine(_folder, "s.tif")}",
            pdf
        );

        var (red, blue, black) = (Plane("Red"), Plane("Blue"), Plane("Black"));

        // Page 2127 px wide; the upper mark is 16 mm above the image, whose top is 25 mm (355 px) down.
        const int Width = 2127;
        var inked = 0;
        for (var y = 127 - 80; y < 127 + 80; y++)
        for (var x = Width / 2 - 80; x < Width / 2 + 80; x++)
        {
            Assert.Equal(red[y * Width + x], blue[y * Width + x]);
            Assert.Equal(red[y * Width + x], black[y * Width + x]);
            inked += red[y * Width + x] < 128 ? 1 : 0;
        }
        Assert.InRange(inked, 400, 2600);
    }

    [SkippableFact]
    public void Several_images_lie_on_one_page_each_the_very_film_bits()
    {
        var films = Films(Dots, Plate("Red", 80, 60, (x, y) => (byte)(3 * x + y / 4))) with { Layout = new(2, 2, 20) };
        var film = films.Plates[0];

        Separate(Pdf(films), 360);

        var bits = Rows(film.ReadRows, film.Width, film.Height);
        var plane = Plane("Red");
        var (stepX, stepY) = (film.Width + 283, film.Height + 283);
        var width = stepX + film.Width;
        Assert.Equal(width * (stepY + film.Height), plane.Length);
        foreach (var (left, top) in ((int, int)[])[(0, 0), (stepX, 0), (0, stepY), (stepX, stepY)])
            for (var y = 0; y < film.Height; y++)
            for (var x = 0; x < film.Width; x++)
                Assert.Equal(bits[x, y] ? 0 : 255, plane[(top + y) * width + left + x]);
    }

    [Theory]
    [InlineData("Spot Green 7", "/Spot#20Green#207")]
    [InlineData("A/B (50%) #1", "/A#2FB#20#2850#25#29#20#231")]
    [InlineData("Gr\u00fcn", "/Gr#C3#BCn")]
    public void Names_are_escaped(string name, string written)
    {
        Assert.Equal(written, PlatesPdf.Name(name));
    }

    [Fact]
    public void The_same_films_give_the_same_bytes()
    {
        var films = Films(Dots, Plate("Red", 40, 30, (x, _) => (byte)(x * 6)));

        Assert.Equal(File.ReadAllBytes(Pdf(films)), File.ReadAllBytes(Pdf(films)));
    }
}
