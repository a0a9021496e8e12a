using System.Globalization;

namespace ProofDesk.Judges;

/// <summary>The plates of a page as Ghostscript separates it.</summary>
internal static class Tiffsep
{
    /// <summary>Files of the plates, 0 = solid ink, by name of the ink.</summary>
    /// <param name="folder">Where they are written; it is made if it is missing.</param>
    /// <param name="options">"-dUseTrimBox" leaves out what lies outside the trim box: on plates of ours the marks.</param>
    public static Dictionary<string, string> Plates(string pdf, double dpi, string folder, params string[] options)
    {
        Directory.CreateDirectory(folder);
        Programs.Run(
            "gs",
            [
                "-q",
                "-dSAFER",
                "-dNOPAUSE",
                "-dBATCH",
                "-sDEVICE=tiffsep",
                "-r" + dpi.ToString(CultureInfo.InvariantCulture),
                .. options,
                "-sOutputFile=" + Path.Combine(folder, "s.tif"),
                pdf,
            ]
        );
        return Directory
            .GetFiles(folder, "s(*).tif")
            .ToDictionary(file => Path.GetFileName(file)["s(".Length..^").tif".Length]);
    }

    /// <summary>mm2 of ink on the page by name of the ink.</summary>
    public static Dictionary<string, double> AreasMm2(string pdf, double dpi, params string[] options) =>
        Measured(pdf, dpi, options, plate => plate.Share * plate.Width * plate.Height * Math.Pow(25.4 / dpi, 2));

    /// <summary>Share of the page that is ink, 0..1, by name of the ink.</summary>
    public static Dictionary<string, double> Shares(string pdf, double dpi, params string[] options) =>
        Measured(pdf, dpi, options, plate => plate.Share);

    private static Dictionary<string, double> Measured(
        string pdf,
        double dpi,
        string[] options,
        Func<(double Share, double Width, double Height), double> measure
    )
    {
        var folder = Directory.CreateTempSubdirectory("proofdesk-tiffsep-").FullName;
        try
        {
            return Plates(pdf, dpi, folder, options)
                .ToDictionary(plate => plate.Key, plate => measure(Plate(plate.Value)));
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    private static (double Share, double Width, double Height) Plate(string file)
    {
        var told = Programs
            .Run("convert", file, "-format", "%[fx:mean] %w %h", "info:")
            .Split(' ')
            .Select(n => double.Parse(n, CultureInfo.InvariantCulture))
            .ToArray();
        return (1 - told[0], told[1], told[2]);
    }
}
