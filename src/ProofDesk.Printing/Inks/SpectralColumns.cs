using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Measurements;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// The wavelength columns of a measurement file, by any of the names that programs write ([CGATS-17], from memory): SPEC_380,
/// SPECTRAL_NM380, SPECTRAL_NM_380, NM380.
/// </summary>
internal sealed partial class SpectralColumns
{
    // A film's bands are wider than this; coarser data would have to be guessed.
    private const int CoarsestNm = 20;
    private const int MustBeginNm = 400;
    private const int MustEndNm = 700;

    private readonly ImmutableArray<(int Nm, int Column)> _columns;

    private SpectralColumns(ImmutableArray<(int Nm, int Column)> columns) => _columns = columns;

    public IEnumerable<int> Columns => _columns.Select(c => c.Column);

    public static SpectralColumns? Of(CgatsTable table, string file, List<InkProblem> problems, List<string> warnings)
    {
        var columns = table
            .Fields.Select((field, i) => (Match: Name().Match(field), Column: i))
            .Where(c => c.Match.Success)
            .Select(c => (Nm: int.Parse(c.Match.Groups["nm"].ValueSpan, CultureInfo.InvariantCulture), c.Column))
            .DistinctBy(c => c.Nm)
            .OrderBy(c => c.Nm)
            .ToImmutableArray();
        void Wrong(string code, string field, string what) =>
            problems.Add(new(code, file, table.FormatLine, field, what));

        if (columns.Length < 2)
        {
            Wrong(
                "wavelengths-missing",
                "SPECTRAL_NM380",
                $"no wavelength columns; the table has {string.Join(", ", table.Fields.Take(8))}{(table.Fields.Length > 8 ? "..." : "")}; export the spectral reflectances, 400 to 700 nm every 10 nm, or give the ink by the Lab of a solid"
            );
            return null;
        }
        var prefix = table.Fields[columns[0].Column][..^3];
        var step = columns.Zip(columns.Skip(1), (a, b) => b.Nm - a.Nm).Min();
        var have = columns.Select(c => c.Nm).ToHashSet();
        var (first, last) = (Math.Min(columns[0].Nm, MustBeginNm), Math.Max(columns[^1].Nm, MustEndNm));
        var missing = Enumerable
            .Range(0, (last - first) / step + 1)
            .Select(i => first + i * step)
            .Where(nm => !have.Contains(nm))
            .ToArray();
        if (step > CoarsestNm)
            Wrong(
                "wavelengths-coarse",
                prefix + columns[1].Nm,
                $"the wavelengths are {step} nm apart, {CoarsestNm} nm at most can be used; export them every 10 nm"
            );
        else if (missing.Length > 0)
            Wrong(
                "wavelengths-missing",
                prefix + missing[0],
                $"{missing.Length} of the wavelengths {first} to {last} nm every {step} nm are missing: {string.Join(", ", missing.Take(6))}{(missing.Length > 6 ? "..." : "")}; {MustBeginNm} to {MustEndNm} nm without a gap is needed"
            );
        else
        {
            if (step > Spectrum.StepNanometres)
                warnings.Add($"wavelengths every {step} nm: values between them are drawn straight");
            var (low, high) = (Spectrum.FirstNanometres, Spectrum.Nanometres(Spectrum.Bands - 1));
            if (columns[0].Nm > low || columns[^1].Nm < high)
                warnings.Add(
                    $"measured from {columns[0].Nm} to {columns[^1].Nm} nm: the ends of {low} to {high} nm repeat the nearest value"
                );
            return new(columns);
        }
        return null;
    }

    public IEnumerable<(int Nm, double Value)> Values(Func<int, double> column) =>
        _columns.Select(c => (c.Nm, column(c.Column)));

    /// <summary>Our 36 bands, straight between the measured wavelengths.</summary>
    public Spectrum Resampled(Func<int, double> column) =>
        Spectrum.From(nm =>
        {
            var right = 0;
            while (right < _columns.Length && _columns[right].Nm < nm)
                right++;
            if (right == 0)
                return column(_columns[0].Column);
            if (right == _columns.Length)
                return column(_columns[^1].Column);
            var (a, b) = (_columns[right - 1], _columns[right]);
            var share = (nm - a.Nm) / (b.Nm - a.Nm);
            return column(a.Column) + share * (column(b.Column) - column(a.Column));
        });

    [GeneratedRegex(
        "^(SPECTRAL_|SPEC_?|SPECTRAL_NM_?|NM_?)(?<nm>[0-9]{3})$",
        RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture,
        1000
    )]
    private static partial Regex Name();
}
