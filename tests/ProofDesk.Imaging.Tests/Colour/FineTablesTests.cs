using System.Globalization;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Tests.Colour;

/// <summary>
/// C3: our 36-band weights against the CIE 1931 observer and the CIE illuminants every 5 nm, read from Debian's package
/// colord-data (its D50 has three digits). Not committed; skipped by name where the package is missing.
/// </summary>
public sealed class FineTablesTests
{
    private const string Observer = "/usr/share/colord/cmf/CIE1931-2deg-XYZ.cmf";

    [SkippableTheory]
    [InlineData(ViewingLight.D50, "/usr/share/colord/illuminant/CIE-D50.sp")]
    [InlineData(ViewingLight.D65, "/usr/share/colord/illuminant/CIE-D65.sp")]
    public void Thirty_six_bands_see_what_the_tables_every_5_nm_see(ViewingLight light, string illuminant)
    {
        Skip.IfNot(File.Exists(Observer) && File.Exists(illuminant), "the package colord-data is not installed");
        var observer = Rows(Observer, 3);
        var power = Rows(illuminant, 1)[0];
        var smooth = new Func<double, double>[]
        {
            _ => 1,
            nm => 0.04 + 0.85 / (1 + Math.Exp(-(nm - 590) / 12)), // red
            nm => 0.05 + 0.8 / (1 + Math.Exp(-(nm - 505) / 14)), // yellow
            nm => 0.04 + 0.5 * Math.Exp(-Math.Pow((nm - 460) / 45, 2)), // blue
            nm => 0.04 + 0.4 * Math.Exp(-Math.Pow((nm - 530) / 40, 2)), // green
            nm => 0.1 + 0.001 * (nm - 380),
        };

        foreach (var reflectance in smooth)
        {
            var fine = Sum(observer, power, reflectance);
            var ours = Tristimulus.Of(Spectrum.From(reflectance), light);

            // Half a thousandth of white: the tables' own digits and the wider bands.
            Assert.Equal(fine.X, ours.X, 0.05);
            Assert.Equal(fine.Y, ours.Y, 0.05);
            Assert.Equal(fine.Z, ours.Z, 0.05);
        }
    }

    private static Xyz Sum(
        SortedList<int, double>[] observer,
        SortedList<int, double> power,
        Func<double, double> reflectance
    )
    {
        var (x, y, z, white) = (0.0, 0.0, 0.0, 0.0);
        foreach (var nm in observer[0].Keys)
        {
            // The D50 table begins and ends inside the observer's; what lies outside carries no visible light.
            if (!power.TryGetValue(nm, out var light))
                continue;
            var r = reflectance(nm) * light;
            x += r * observer[0][nm];
            y += r * observer[1][nm];
            z += r * observer[2][nm];
            white += light * observer[1][nm];
        }
        return new(100 * x / white, 100 * y / white, 100 * z / white);
    }

    /// <summary>Rows of a CGATS table whose columns are SPEC_nnn, by wavelength.</summary>
    private static SortedList<int, double>[] Rows(string file, int count)
    {
        var words = File.ReadAllText(file).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        var names = words
            .Where(w => w.StartsWith("SPEC_", StringComparison.Ordinal))
            .Select(w => int.Parse(w.AsSpan(5), CultureInfo.InvariantCulture))
            .ToArray();
        var data = Array.IndexOf(words, "BEGIN_DATA") + 1;
        var rows = new SortedList<int, double>[count];
        for (var row = 0; row < count; row++)
        {
            rows[row] = [];
            for (var i = 0; i < names.Length; i++)
                rows[row][names[i]] = double.Parse(words[data + row * names.Length + i], CultureInfo.InvariantCulture);
        }
        return rows;
    }
}
