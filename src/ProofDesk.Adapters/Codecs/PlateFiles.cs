using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Adapters.Codecs;

/// <summary>What a set of films is called on the films themselves.</summary>
/// <param name="Released">False: every film says NOT RELEASED outside the image.</param>
public sealed record FilmSetName(string Order, string Print, string Version, bool Released);

/// <summary>Films as files: 1-bit TIFF (Group 4) on the frame template, or 8-bit plates for devices that make the dots.</summary>
public static class PlateFiles
{
    /// <summary>"01-white.tif": order and the plate's name in letters every file system takes.</summary>
    public static string FileName(int index, string plateName)
    {
        var letters = plateName.ToLowerInvariant().Select(c => char.IsAsciiLetterOrDigit(c) ? c : '-').ToArray();
        var name = string.Join('-', new string(letters).Split('-', StringSplitOptions.RemoveEmptyEntries));
        return $"{index + 1:00}-{(name.Length == 0 ? "plate" : name[..Math.Min(40, name.Length)])}.tif";
    }

    /// <summary>The first characters of the digest, in groups people can read to each other.</summary>
    public static string ShortCode(string sha256) => FilmCode.ShortOf(sha256);

    /// <summary>The film of one plate on its sheet.</summary>
    public static FilmSheet Sheet(Films films, int index, FilmMeasure measure, FilmSetName name) =>
        FilmSheet.Of(
            films.Plates[index],
            films.Device,
            films.Layout,
            Label(films, index, measure, name),
            Square(index, measure, name)
        );

    /// <summary>Writes the file of one plate in the form its device takes.</summary>
    /// <param name="stream">Must be able to seek.</param>
    public static void Write(
        Films films,
        int index,
        FilmMeasure measure,
        FilmSetName name,
        Stream stream,
        CancellationToken cancel = default
    )
    {
        var plate = films.Plates[index].Plate;
        if (films.Device.HandOver == HandOver.DotsTheirs)
        {
            stream.Write(Tones(films, index, measure, name));
            return;
        }
        var sheet = Sheet(films, index, measure, name);
        G4Tiff.Write(
            stream,
            sheet.Width,
            sheet.Height,
            new(
                sheet.Device.OwnXDpi,
                sheet.Device.OwnYDpi,
                $"{plate.Name}; {Described(sheet, measure, films.Device.Mirror)}",
                "ProofDesk"
            ),
            sheet.ReadRows,
            cancellation: cancel
        );
    }

    /// <summary>The tones of one plate on its sheet.</summary>
    public static ToneSheet ToneSheetOf(Films films, int index, FilmMeasure measure, FilmSetName name) =>
        ToneSheet.Of(
            films.Plates[index],
            films.Device,
            films.Separation.PixelsPerMm,
            films.Layout,
            Label(films, index, measure, name),
            Square(index, measure, name)
        );

    private static byte[] Tones(Films films, int index, FilmMeasure measure, FilmSetName name)
    {
        var sheet = ToneSheetOf(films, index, measure, name);
        var plate = films.Plates[index].Plate;
        var described =
            $"{plate.Name}; tones bound, dots simulated; "
            + FormattableString.Invariant(
                $"{plate.Screen.LinesPerInch:0.#} lpi, {plate.Screen.AngleDegrees:0.#} degrees, {plate.Screen.Dot}; "
            )
            + Described(sheet.Sheet, measure, films.Device.Mirror);
        return PictureWriter.ToneTiff(sheet.Tones, sheet.Dpi.X, sheet.Dpi.Y, described);
    }

    /// <summary>Where the image is on the sheet before it was mirrored, for programs; <see cref="FilmNote"/> reads it.</summary>
    private static string Described(FilmSheet sheet, FilmMeasure measure, bool mirrored)
    {
        var several = sheet.Layout.IsOne
            ? ""
            : $"{sheet.Layout.Columns} x {sheet.Layout.Rows} images every {sheet.Step.X} {sheet.Step.Y} px; ";
        return $"image area {sheet.ImageLeft} {sheet.ImageTop} {sheet.ImageWidth} {sheet.ImageHeight} px; "
            + several
            + (mirrored ? "mirrored; " : "")
            + $"sha-256 of {(sheet.Layout.IsOne ? "the image area" : "one image")} {measure.Sha256}";
    }

    private static FilmLabel Label(Films films, int index, FilmMeasure measure, FilmSetName name) =>
        new(
            name.Order,
            name.Print,
            name.Version,
            index + 1,
            films.Plates.Length,
            ShortCode(measure.Sha256),
            measure.Sha256,
            name.Released
        );

    private static bool[,] Square(int index, FilmMeasure measure, FilmSetName name) =>
        SquareCode.Of(new FilmCode(name.Order, name.Print, name.Version, index + 1, ShortCode(measure.Sha256)).Text);
}
