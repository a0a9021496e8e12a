using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Measurements;
using ProofDesk.Judges;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>
/// Our overlap statistics on measured offset prints (Debian's icc-profiles-free, zlib licence, credited to K.-U. Behrmann; read
/// from the package, not copied): [NEUGEBAUER-1937] with [YULE-NIELSEN-1951], 16 measured primaries, coverages from the
/// single ramps. Checks H8 and H9 of the physics brief; expected figures were computed independently from the same files.
/// </summary>
public sealed partial class OffsetNeugebauerTests
{
    private const string Folder = "/usr/share/color/icc/";
    private static readonly string[] Inks = ["CMYK_C", "CMYK_M", "CMYK_Y", "CMYK_K"];
    private static readonly Xyz White = new(96.422, 100, 82.521);

    [SkippableTheory]
    [InlineData("FOGRA39L", 1, 3.30, 6.00, 7.91)]
    [InlineData("FOGRA39L", 1.5, 2.58, 4.70, 5.32)]
    [InlineData("FOGRA39L", 2, 2.53, 4.70, 5.36)]
    [InlineData("FOGRA39L", 3, 2.77, 5.19, 6.10)]
    [InlineData("FOGRA29L", 2, 2.61, 4.50, 5.94)]
    [InlineData("FOGRA29L", 4, 2.44, 4.33, 6.08)]
    public void All_patches_are_predicted_as_well_as_the_model_can(
        string name,
        double n,
        double mean,
        double p95,
        double most
    )
    {
        var off = Errors(Packaged(name), n);

        Assert.Equal(mean, off.Average(), 0.05);
        Assert.Equal(p95, off[(int)Math.Round(0.95 * (off.Length - 1))], 0.05);
        Assert.Equal(most, off[^1], 0.05);
    }

    // A second opinion: an independent fitter of the same kind of model, with curves of its own for every overlap, comes to
    // 0.42 on average and 2.10 at most. Ours, which knows single ramps only, must lie between that and no optics at all.
    [SkippableFact]
    public void An_independent_model_with_more_freedom_fits_better_and_none_without_optics_does()
    {
        var table = Packaged("FOGRA39L");
        var folder = Directory.CreateTempSubdirectory("mppprof-");
        try
        {
            File.Copy(Folder + "FOGRA39L.ti3", Path.Combine(folder.FullName, "f.ti3"));
            var said = Programs.Run("mppprof", "-v", "-qs", "-L", Path.Combine(folder.FullName, "f"));

            var errors = Fitted().Match(said);
            Assert.True(errors.Success, said);
            var theirs = double.Parse(errors.Groups[2].Value, CultureInfo.InvariantCulture);
            Assert.Equal(2.10, double.Parse(errors.Groups[1].Value, CultureInfo.InvariantCulture), 0.1);
            Assert.Equal(0.42, theirs, 0.05);
            Assert.InRange(Errors(table, 2).Average(), theirs, Errors(table, 1).Average());
        }
        finally
        {
            folder.Delete(true);
        }
    }

    /// <summary>dE76 of every patch, smallest first.</summary>
    private static double[] Errors(CgatsTable table, double n)
    {
        var rows = Enumerable
            .Range(0, table.Rows.Length)
            .Select(row =>
                (
                    Inks: Inks.Select(ink => table.Number(row, ink)).ToArray(),
                    Xyz: new[] { table.Number(row, "XYZ_X"), table.Number(row, "XYZ_Y"), table.Number(row, "XYZ_Z") }
                )
            )
            .ToArray();
        double[] Root(double[] xyz) => [.. xyz.Select(v => Math.Pow(v, 1 / n))];
        var primaries = Enumerable
            .Range(0, 16)
            .Select(code => Root(rows.First(r => r.Inks.Select((v, i) => v == 100 * (code >> i & 1)).All(x => x)).Xyz))
            .ToArray();
        var curves = Enumerable
            .Range(0, 4)
            .Select(ink =>
                rows.Where(r => r.Inks.Where((v, i) => i != ink && v > 0).Any() is false)
                    .GroupBy(r => r.Inks[ink])
                    .OrderBy(g => g.Key)
                    .Select(g => (Tone: g.Key, Area: Coverage(primaries[0], primaries[1 << ink], Root(g.First().Xyz))))
                    .ToArray()
            )
            .ToArray();
        return
        [
            .. rows.Select(row =>
                {
                    var areas = Neugebauer.Demichel([
                        .. row.Inks.Select((tone, ink) => Math.Clamp(Between(curves[ink], tone), 0, 1)),
                    ]);
                    var xyz = Enumerable
                        .Range(0, 3)
                        .Select(c => Math.Pow(areas.Select((a, code) => a * primaries[code][c]).Sum(), n))
                        .ToArray();
                    return Distance(xyz, row.Xyz);
                })
                .Order(),
        ];
    }

    /// <summary>Least squares over X, Y and Z in the domain of the n-th root.</summary>
    private static double Coverage(double[] paper, double[] solid, double[] tint)
    {
        var (above, below) = (0.0, 0.0);
        for (var c = 0; c < 3; c++)
        {
            above += (tint[c] - paper[c]) * (solid[c] - paper[c]);
            below += (solid[c] - paper[c]) * (solid[c] - paper[c]);
        }
        return above / below;
    }

    private static double Between((double Tone, double Area)[] curve, double tone)
    {
        var i = Math.Max(1, Array.FindIndex(curve, p => p.Tone >= tone));
        var (low, high) = (curve[i - 1], curve[i]);
        return low.Area + (high.Area - low.Area) * (tone - low.Tone) / (high.Tone - low.Tone);
    }

    private static double Distance(double[] a, double[] b)
    {
        var (one, two) = (Lab(a), Lab(b));
        var (l, da, db) = (one.L - two.L, one.A - two.A, one.B - two.B);
        return Math.Sqrt(l * l + da * da + db * db);
    }

    private static Lab Lab(double[] xyz) => CieLab.FromXyz(new Xyz(xyz[0], xyz[1], xyz[2]), White);

    private static CgatsTable Packaged(string name)
    {
        var path = $"{Folder}{name}.ti3";
        Skip.IfNot(File.Exists(path), $"{name}.ti3 is not installed (Debian: icc-profiles-free)");
        return CgatsText.Read(File.ReadAllText(path, Encoding.Latin1));
    }

    [GeneratedRegex(@"peak err = ([0-9.]+), avg err = ([0-9.]+)")]
    private static partial Regex Fitted();
}
