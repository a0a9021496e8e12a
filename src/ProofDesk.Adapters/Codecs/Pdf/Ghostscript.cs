using System.Globalization;
using System.Text;

namespace ProofDesk.Adapters.Codecs.Pdf;

/// <summary>
/// Draws one page with Ghostscript, with its safer mode on: files other than the one named stay closed. Edges are
/// antialiased with 4 x 4 samples; measured, coverages come as near as with drawing 4 times finer and averaging.
/// </summary>
internal sealed class Ghostscript(string program, string scratch, string art, Func<TimeSpan> timeLeft)
{
    public const string Name = "Ghostscript";

    /// <summary>Every colorant on a plane of its own, 8 bits; overprint is kept (device tiffsep).</summary>
    /// <returns>Folder of the planes, and what was said about the spot colours.</returns>
    public (string Folder, string Said) Planes(PdfPage page, double dpi, PdfWindow window)
    {
        var folder = Empty("planes");
        var said = Run(
            page,
            dpi,
            window,
            ["-sDEVICE=tiffsep", "-dPrintSpotCMYK", $"-sOutputFile={Path.Combine(folder, "p.tif")}"]
        );
        // All planes in one picture: nobody asked for it, and it is the largest of the files.
        File.Delete(Path.Combine(folder, "p.tif"));
        return (folder, said);
    }

    /// <summary>What is seen, in sRGB, transparent where nothing was painted (device pngalpha).</summary>
    public string Picture(PdfPage page, double dpi, PdfWindow window)
    {
        var file = Path.Combine(Empty("picture"), "p.png");
        Run(page, dpi, window, ["-sDEVICE=pngalpha", $"-sOutputFile={file}"]);
        return file;
    }

    /// <summary>For the record: the same page may come out a little different from another version.</summary>
    public string Version() =>
        DrawingProgram.WithVersion(Name, DrawingProgram.Run(program, Name, ["--version"], scratch, timeLeft()));

    private string Run(PdfPage page, double dpi, PdfWindow window, string[] device)
    {
        var number = page.Number.ToString(CultureInfo.InvariantCulture);
        string[] fixedWords =
        [
            "-q",
            "-dSAFER",
            "-dNOPAUSE",
            "-dBATCH",
            "-dNOPROMPT",
            "-dShowAnnots=false",
            "-dShowAcroForm=false",
            "-dTextAlphaBits=4",
            "-dGraphicsAlphaBits=4",
            $"-dFirstPage={number}",
            $"-dLastPage={number}",
            $"-r{dpi.ToString("0.####", CultureInfo.InvariantCulture)}",
        ];
        // A sheet of the window's size, on which the page is moved until the window shows. Its boxes are not asked: which
        // part is drawn was decided before.
        var (left, bottom, _) = page.Corner;
        string[] sheet =
        [
            string.Create(CultureInfo.InvariantCulture, $"-g{window.Columns(dpi)}x{window.Rows(dpi)}"),
            "-dFIXEDMEDIA",
        ];
        string[] moved =
        [
            "-c",
            string.Create(
                CultureInfo.InvariantCulture,
                $"<</Install {{{-left - window.Left:0.#####} {-bottom - window.Bottom:0.#####} translate}}>> setpagedevice"
            ),
        ];
        return DrawingProgram.Run(
            program,
            Name,
            [.. fixedWords, .. sheet, .. device, .. moved, "-f", art],
            scratch,
            timeLeft()
        );
    }

    private string Empty(string name)
    {
        var folder = Path.Combine(scratch, name);
        if (Directory.Exists(folder))
            Directory.Delete(folder, recursive: true);
        return Directory.CreateDirectory(folder).FullName;
    }
}
