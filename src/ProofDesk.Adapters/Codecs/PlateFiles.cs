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
    public static string ShortCode(string sha256) => $"{sha256[..4]}-{sha256[4..8]}".ToUpperInvariant();

    /// <summary>The film of one plate on its sheet.</summary>
    public static FilmSheet Sheet(Films films, int index, FilmMeasure measure, FilmSetName name)
    {
        var code = ShortCode(measure.Sha256);
        var label = new FilmLabel(
            name.Order,
            name.Print,
            name.Version,
            index + 1,
            films.Plates.Length,
            code,
            measure.Sha256,
            name.Released
        );
        var square = SquareCode.Of($"{name.Order}/{name.Print}/{name.Version}/{index + 1}/{code}");
        return FilmSheet.Of(films.Plates[index], films.Device, FrameTemplate.Usual, label, square);
    }

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
            var dpi = films.Separation.PixelsPerMm * 25.4;
            stream.Write(PictureWriter.ToneTiff(TonePlate.Of(plate), dpi, dpi));
            return;
        }
        var sheet = Sheet(films, index, measure, name);
        var described =
            $"{plate.Name}; image area {sheet.ImageLeft} {sheet.ImageTop} {sheet.ImageWidth} {sheet.ImageHeight} px; "
            + $"sha-256 of the image area {measure.Sha256}";
        G4Tiff.Write(
            stream,
            sheet.Width,
            sheet.Height,
            new(films.Device.XDpi, films.Device.YDpi, described, "ProofDesk"),
            sheet.ReadRows,
            cancellation: cancel
        );
    }
}
