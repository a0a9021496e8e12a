using System.Collections.Immutable;
using System.Globalization;

namespace ProofDesk.Imaging.Measurements;

/// <summary>One table of a measurement file: named fields, rows of values, and the keywords above it.</summary>
public sealed record CgatsTable(
    ImmutableDictionary<string, string> Keywords,
    ImmutableArray<string> Fields,
    ImmutableArray<ImmutableArray<string>> Rows
)
{
    /// <summary>Lines of the text the values stood on, row after row; empty when the table was not read from text.</summary>
    public ImmutableArray<int> ValueLines { get; init; } = [];

    /// <summary>Line of each keyword.</summary>
    public ImmutableDictionary<string, int> KeywordLines { get; init; } = ImmutableDictionary<string, int>.Empty;

    /// <summary>Line of the first field name; 0 when the table was not read from text.</summary>
    public int FormatLine { get; init; }

    /// <summary>Line a value stood on; 0 when the table was not read from text.</summary>
    public int LineOf(int row, int column)
    {
        var at = row * Fields.Length + column;
        return at < ValueLines.Length ? ValueLines[at] : 0;
    }

    /// <summary>Column of a field, or -1.</summary>
    public int Column(string field) => Fields.IndexOf(field);

    /// <summary>A value as a number.</summary>
    /// <exception cref="CgatsException">No such field, or not a number.</exception>
    public double Number(int row, string field)
    {
        var column = Column(field);
        if (column < 0)
            throw new CgatsException(FormatLine, $"no field {field}; the table has {string.Join(", ", Fields)}");
        var text = Rows[row][column];
        return
            double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            && double.IsFinite(number)
            ? number
            : throw new CgatsException(
                LineOf(row, column),
                $"row {row + 1}, field {field}: \"{text}\" is not a number"
            );
    }
}

/// <summary>A measurement file that cannot be read: the line (0 when it is about the whole) and what is wrong.</summary>
public sealed class CgatsException(int line, string problem) : Exception(line > 0 ? $"line {line}: {problem}" : problem)
{
    public int Line { get; } = line;

    /// <summary>The message without the line.</summary>
    public string Problem { get; } = problem;
}
