using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Measurements;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// Reads a drawdown from a measurement file ([CGATS-17], [ISO-28178]). Which row is which stands in SAMPLE_NAME: "over black",
/// "over white", "black", "white", and "tint 10" for 10 % of the ink in white. Keywords of ours: FILM_THICKNESS_UM (a number or
/// unknown) and FILM_MESH (61-64). docs/ink-files.md shows a whole file.
/// </summary>
internal sealed partial class DrawdownText
{
    private const string NormKeyword = "SPECTRAL_NORM";
    private const string NameField = "SAMPLE_NAME";

    private const double LargestR = 1.2;
    private const double SmallestR = -0.01;

    // Three standard deviations of a good instrument, as in TwoBackgrounds.
    private const double Noise = 0.006;
    private const double LeastContrast = 0.3;

    private static readonly string[] Needed = ["over black", "over white", "black", "white"];

    private readonly CgatsTable _table;
    private readonly string _file;
    private readonly List<InkProblem> _problems;
    private readonly List<string> _warnings;

    private DrawdownText(CgatsTable table, string file, List<InkProblem> problems, List<string> warnings) =>
        (_table, _file, _problems, _warnings) = (table, file, problems, warnings);

    /// <summary>The drawdown, or null with everything that is wrong in <paramref name="problems"/>.</summary>
    public static Drawdown? Read(string text, string file, List<InkProblem> problems, List<string> warnings)
    {
        CgatsTable table;
        try
        {
            table = CgatsText.Read(text);
        }
        catch (CgatsException broken)
        {
            problems.Add(
                new(
                    "not-readable",
                    file,
                    broken.Line,
                    "",
                    $"{broken.Problem}; export the measurement again as CGATS.17 text"
                )
            );
            return null;
        }
        var drawdown = new DrawdownText(table, file, problems, warnings).Read();
        return problems.Count == 0 ? drawdown : null;
    }

    private Drawdown? Read()
    {
        var columns = SpectralColumns.Of(_table, _file, _problems, _warnings);
        var rows = Rows();
        var (film, mesh, ki) = new DrawdownKeywords(_table, _file, _problems, _warnings).Read();
        if (columns is null || rows is null)
            return null;
        var used = rows.Value.Named.Concat(rows.Value.Tints.Select(t => t.Row)).ToArray();
        if (!Numbers(columns, used, out var values))
            return null;
        if (Scale(values) is not { } scale)
            return null;
        foreach (var row in used)
            CheckRange(columns, row, values[row], scale);
        if (_problems.Count > 0)
            return null;

        Spectrum Of(int row) => columns.Resampled(column => Math.Max(0, values[row][column] * scale));
        var named = rows.Value.Named;
        var drawdown = new Drawdown(
            Of(named[0]),
            Of(named[1]),
            Of(named[2]),
            Of(named[3]),
            film,
            mesh,
            ki,
            [.. rows.Value.Tints.Select(t => new WhiteTint(t.Percent, Of(t.Row)))]
        )
        {
            Lines = [.. named.Select(row => _table.LineOf(row, 0))],
        };
        CheckOrder(drawdown);
        return drawdown;
    }

    private (ImmutableArray<int> Named, ImmutableArray<(double Percent, int Row)> Tints)? Rows()
    {
        var column = _table.Column(NameField);
        if (column < 0)
        {
            Wrong(
                "name-missing",
                _table.FormatLine,
                NameField,
                $"the field is missing; add it and name the rows {string.Join(", ", Needed)}"
            );
            return null;
        }
        var names = _table.Rows.Select(row => DrawdownKeywords.Plain(row[column])).ToArray();
        var named = ImmutableArray.CreateBuilder<int>();
        var tints = ImmutableArray.CreateBuilder<(double, int)>();
        foreach (var needed in Needed)
        {
            var found = Enumerable.Range(0, names.Length).Where(row => Meaning(names[row]) == needed).ToArray();
            if (found.Length == 1)
                named.Add(found[0]);
            else if (found.Length == 0)
                Wrong(
                    "row-missing",
                    _table.FormatLine,
                    NameField,
                    $"no row is called \"{needed}\"; {_table.Rows.Length} rows are there{(names.Length > 0 ? ": " + string.Join(", ", _table.Rows.Take(8).Select(row => $"\"{row[column]}\"")) : "")}; one each of {string.Join(", ", Needed)} is needed"
                );
            else
                Wrong(
                    "row-twice",
                    _table.LineOf(found[1], column),
                    NameField,
                    $"{found.Length} rows are called \"{needed}\" (lines {string.Join(", ", found.Select(row => _table.LineOf(row, column)))}); keep one, or average them"
                );
        }
        for (var row = 0; row < names.Length; row++)
        {
            if (Tint().Match(names[row]) is { Success: true } tint)
            {
                var percent = double.Parse(tint.Groups["percent"].ValueSpan, CultureInfo.InvariantCulture);
                if (percent is > 0 and < 100)
                    tints.Add((percent, row));
                else
                    Wrong(
                        "tint-share",
                        _table.LineOf(row, column),
                        NameField,
                        $"a tint of {percent} %; between 0 and 100 % of the ink in white, usually 10, is possible"
                    );
            }
            else if (!Needed.Contains(Meaning(names[row])))
                _warnings.Add($"line {_table.LineOf(row, column)}: the row \"{_table.Rows[row][column]}\" is not used");
        }
        return named.Count == Needed.Length ? (named.ToImmutable(), tints.ToImmutable()) : null;
    }

    private static string Meaning(string name) => name.StartsWith("bare ", StringComparison.Ordinal) ? name[5..] : name;

    private bool Numbers(SpectralColumns columns, int[] rows, out Dictionary<int, double[]> values)
    {
        values = [];
        var before = _problems.Count;
        foreach (var row in rows)
        {
            var numbers = values[row] = new double[_table.Fields.Length];
            foreach (var column in columns.Columns)
            {
                var text = _table.Rows[row][column];
                if (
                    double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
                    && double.IsFinite(number)
                )
                    numbers[column] = number;
                else
                    Wrong(
                        "not-a-number",
                        _table.LineOf(row, column),
                        _table.Fields[column],
                        $"\"{text}\" is not a number{(text.Contains(',', StringComparison.Ordinal) ? "; write a decimal point, not a comma" : "; measure or export the row again")}"
                    );
            }
        }
        return _problems.Count == before;
    }

    private double? Scale(Dictionary<int, double[]> values)
    {
        if (!_table.Keywords.TryGetValue(NormKeyword, out var text))
        {
            var percent = values.Values.Max(row => row.Max()) > 2;
            _warnings.Add($"{NormKeyword} is not given: the values are taken as {(percent ? "percent" : "0 to 1")}");
            return percent ? 0.01 : 1;
        }
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var norm) && norm is 1 or 100)
            return 1 / norm;
        Wrong(
            "norm",
            _table.KeywordLines.GetValueOrDefault(NormKeyword),
            NormKeyword,
            $"\"{text}\"; 100 for percent or 1 for 0 to 1 is possible"
        );
        return null;
    }

    private void CheckRange(SpectralColumns columns, int row, double[] values, double scale)
    {
        var name = _table.Rows[row][_table.Column(NameField)];
        var high = columns.Columns.Where(column => values[column] * scale > LargestR).ToArray();
        var low = columns.Columns.Where(column => values[column] * scale < SmallestR).ToArray();
        if (high.Length > 0)
            Wrong(
                "too-bright",
                _table.LineOf(row, high[0]),
                _table.Fields[high[0]],
                $"\"{name}\" reads {Number(values[high[0]])}, a reflectance of {Number(values[high[0]] * scale)}; {Number(LargestR)} at most is possible without fluorescence{Others(high.Length)}; {(scale == 1 ? $"if the values are percent, write {NormKeyword} \"100\"" : "calibrate and measure again, with the ultraviolet left out")}"
            );
        if (low.Length > 0)
            Wrong(
                "below-zero",
                _table.LineOf(row, low[0]),
                _table.Fields[low[0]],
                $"\"{name}\" reads {Number(values[low[0]])}, a reflectance of {Number(values[low[0]] * scale)}; 0 at least is possible{Others(low.Length)}; calibrate and measure again"
            );

        static string Others(int count) => count > 1 ? $" ({count} values of this row)" : "";
    }

    private void CheckOrder(Drawdown drawdown)
    {
        double Mean(Spectrum s) => s.Values.ToArray().Average();
        var (black, white) = (Mean(drawdown.Black), Mean(drawdown.White));
        if (white - black < LeastContrast)
            Wrong(
                "backings-alike",
                drawdown.Lines[3],
                NameField,
                $"the bare white reflects {Number(white)} on average, the bare black {Number(black)}; they must be {Number(LeastContrast)} apart or more; {(white < black ? "the two rows are swapped" : "use a black and white opacity card")}"
            );
        var brighter = Enumerable
            .Range(0, Spectrum.Bands)
            .Where(i => drawdown.OverBlack[i] - drawdown.OverWhite[i] > Noise)
            .ToArray();
        if (brighter.Length == 0)
            return;
        var worst = brighter.MaxBy(i => drawdown.OverBlack[i] - drawdown.OverWhite[i]);
        Wrong(
            "over-black-brighter",
            drawdown.Lines[0],
            $"SPECTRAL_NM{Spectrum.Nanometres(worst)}",
            $"the film over black reflects {Number(drawdown.OverBlack[worst])}, over white only {Number(drawdown.OverWhite[worst])}, in {brighter.Length} of {Spectrum.Bands} bands; {(brighter.Length > Spectrum.Bands / 2 ? "the rows \"over black\" and \"over white\" are swapped" : "the film was not even; measure both halves close to the border")}"
        );
    }

    private void Wrong(string code, int line, string field, string what) =>
        _problems.Add(new(code, _file, line, field, what));

    private static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    [GeneratedRegex("^tint (?<percent>[0-9]+(?:\\.[0-9]+)?) ?%?$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Tint();
}
