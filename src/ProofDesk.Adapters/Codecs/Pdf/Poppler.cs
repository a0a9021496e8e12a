using System.Globalization;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>Draws one page with poppler's pdftocairo: what is seen, transparent where nothing was painted. No plates.</summary>
internal sealed class Poppler(string program, string scratch, string art, Func<TimeSpan> timeLeft)
{
    public const string Name = "poppler";

    public string Picture(PdfPage page, double dpi, PdfWindow window)
    {
        var folder = Directory.CreateDirectory(Path.Combine(scratch, "picture")).FullName;
        var number = page.Number.ToString(CultureInfo.InvariantCulture);
        var (left, _, top) = page.Corner;
        var x = (left + window.Left) * dpi / 72;
        var y = (top + page.HeightPoints - window.Bottom - window.Height) * dpi / 72;
        string[] words =
        [
            "-png",
            "-transp",
            "-singlefile",
            "-f",
            number,
            "-l",
            number,
            "-r",
            dpi.ToString("0.####", CultureInfo.InvariantCulture),
            "-x",
            Whole(x),
            "-y",
            Whole(y),
            "-W",
            Whole(window.Columns(dpi)),
            "-H",
            Whole(window.Rows(dpi)),
            art,
            Path.Combine(folder, "p"),
        ];
        DrawingProgram.Run(program, Name, words, scratch, timeLeft());
        return Path.Combine(folder, "p.png");
    }

    /// <summary>For the record: the same page may come out a little different from another version.</summary>
    public string Version() =>
        DrawingProgram.WithVersion(Name, DrawingProgram.Run(program, Name, ["-v"], scratch, timeLeft()));

    private static string Whole(double pixels) => ((int)Math.Round(pixels)).ToString(CultureInfo.InvariantCulture);
}
