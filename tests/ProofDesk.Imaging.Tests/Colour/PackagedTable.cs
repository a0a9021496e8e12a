using System.Globalization;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Tests.Colour;

/// <summary>
/// CIE tables of the Debian package colord-data (GPL-2 or later), read where the package puts them and not copied: observers and
/// illuminants every 5 nm. Skips by name where the package is missing.
/// </summary>
internal static class PackagedTable
{
    private const string Folder = "/usr/share/colord";

    /// <summary>Observer and illuminant of a light.</summary>
    internal static (SortedList<int, double>[] Observer, SortedList<int, double> Power) Of(ViewingLight light)
    {
        var (observer, illuminant) = light switch
        {
            ViewingLight.D50 => ("CIE1931-2deg-XYZ", "CIE-D50"),
            ViewingLight.D65 => ("CIE1931-2deg-XYZ", "CIE-D65"),
            ViewingLight.A => ("CIE1931-2deg-XYZ", "CIE-A"),
            ViewingLight.F11 => ("CIE1931-2deg-XYZ", "CIE-F11"),
            ViewingLight.D65TenDegrees => ("CIE1964-10deg-XYZ", "CIE-D65"),
            ViewingLight.ATenDegrees => ("CIE1964-10deg-XYZ", "CIE-A"),
            ViewingLight.F11TenDegrees => ("CIE1964-10deg-XYZ", "CIE-F11"),
            _ => throw new ArgumentOutOfRangeException(nameof(light), light, "unknown viewing light"),
        };
        return (Rows($"cmf/{observer}.cmf", 3), Rows($"illuminant/{illuminant}.sp", 1)[0]);
    }

    internal static string Path(string file)
    {
        var path = System.IO.Path.Combine(Folder, file);
        Skip.IfNot(File.Exists(path), $"{file} is not installed (Debian: colord-data)");
        return path;
    }

    /// <summary>Rows of a CGATS table whose columns are SPEC_nnn, by wavelength.</summary>
    internal static SortedList<int, double>[] Rows(string file, int count, bool named = false)
    {
        var words = File.ReadAllText(Path(file)).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        var names = words
            .Where(w => w.StartsWith("SPEC_", StringComparison.Ordinal))
            .Select(w => int.Parse(w.AsSpan(5), CultureInfo.InvariantCulture))
            // The file of illuminant A counts in thousandths.
            .Select(nm => nm > 10_000 ? nm / 1000 : nm)
            .ToArray();
        var data = Array.IndexOf(words, "BEGIN_DATA") + 1;
        var fields = names.Length + (named ? 1 : 0);
        var rows = new SortedList<int, double>[count];
        for (var row = 0; row < count; row++)
        {
            rows[row] = [];
            for (var i = 0; i < names.Length; i++)
                rows[row][names[i]] = double.Parse(
                    words[data + row * fields + fields - names.Length + i],
                    CultureInfo.InvariantCulture
                );
        }
        return rows;
    }
}
