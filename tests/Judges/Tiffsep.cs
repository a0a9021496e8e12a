using System.Globalization;

namespace ProofDesk.Judges;

/// <summary>Inked areas of the plates of a page as Ghostscript separates them.</summary>
internal static class Tiffsep
{
    /// <param name="options">"-dUseTrimBox" leaves out what lies outside the trim box: on plates of ours the marks.</param>
    /// <returns>mm2 of the page by the name of the plate.</returns>
    public static Dictionary<string, double> AreasMm2(string pdf, double dpi, params string[] options)
    {
        var folder = Directory.CreateTempSubdirectory("proofdesk-tiffsep-").FullName;
        try
        {
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
                .ToDictionary(f => Path.GetFileName(f)["s(".Length..^").tif".Length], f => AreaMm2(f, dpi));
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    private static double AreaMm2(string plate, double dpi)
    {
        var told = Programs
            .Run("convert", plate, "-format", "%[fx:mean] %w %h", "info:")
            .Split(' ')
            .Select(n => double.Parse(n, CultureInfo.InvariantCulture))
            .ToArray();
        return (1 - told[0]) * told[1] * told[2] * Math.Pow(25.4 / dpi, 2);
    }
}
