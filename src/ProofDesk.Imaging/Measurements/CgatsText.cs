using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace ProofDesk.Imaging.Measurements;

/// <summary>
/// Reads and writes the keyword text of [CGATS-17] and [ISO-28178] (format from memory): lines of keyword and value,
/// BEGIN_DATA_FORMAT, BEGIN_DATA. Accepts what real files have: tabs, quotes, comments after #, blanks after END_DATA, rows over
/// several lines, a file-type word first.
/// </summary>
public static class CgatsText
{
    /// <summary>The first table of the text.</summary>
    /// <exception cref="CgatsException">Line and problem.</exception>
    public static CgatsTable Read(string text)
    {
        var keywords = ImmutableDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        var fields = ImmutableArray.CreateBuilder<string>();
        var keywordLines = ImmutableDictionary.CreateBuilder<string, int>(StringComparer.Ordinal);
        var values = new List<string>();
        var lines = new List<int>();
        var (part, line, formatLine, ended) = ("", 0, 0, false);
        foreach (var raw in text.Split('\n'))
        {
            line++;
            var words = Words(raw.TrimEnd('\r'), line);
            if (words.Count == 0)
                continue;
            if (words[0] is "BEGIN_DATA_FORMAT" or "BEGIN_DATA")
                part = words[0];
            else if (words[0] == "END_DATA_FORMAT")
                part = "";
            else if (words[0] == "END_DATA")
            {
                ended = true;
                break;
            }
            else if (part == "BEGIN_DATA_FORMAT")
            {
                fields.AddRange(words);
                formatLine = formatLine == 0 ? line : formatLine;
            }
            else if (part == "BEGIN_DATA")
            {
                values.AddRange(words);
                lines.AddRange(Enumerable.Repeat(line, words.Count));
            }
            else if (words.Count > 1 && words[0] != "KEYWORD")
            {
                keywords[words[0]] = string.Join(' ', words.Skip(1));
                keywordLines[words[0]] = line;
            }
        }
        if (fields.Count == 0)
            throw new CgatsException(line, "no field names between BEGIN_DATA_FORMAT and END_DATA_FORMAT");
        if (!ended)
            throw new CgatsException(line, "the text ends before END_DATA");
        if (values.Count % fields.Count != 0)
            throw Unfilled(lines, fields.Count, line);
        var rows = values.Chunk(fields.Count).Select(row => row.ToImmutableArray()).ToImmutableArray();
        if (
            keywords.TryGetValue("NUMBER_OF_SETS", out var stated)
            && int.TryParse(stated, NumberStyles.None, CultureInfo.InvariantCulture, out var sets)
            && sets != rows.Length
        )
            throw new CgatsException(line, $"NUMBER_OF_SETS says {sets}, {rows.Length} rows are there");
        return new(keywords.ToImmutable(), fields.ToImmutable(), rows)
        {
            ValueLines = [.. lines],
            KeywordLines = keywordLines.ToImmutable(),
            FormatLine = formatLine,
        };
    }

    // Where rows stand one a line, the line to blame is the one whose count is its own.
    private static CgatsException Unfilled(List<int> lines, int fields, int end)
    {
        var odd = lines.CountBy(line => line).Where(line => line.Value != fields).ToList();
        return odd is [var (line, count)]
            ? new(line, $"{count} values in this row, the format has {fields} fields")
            : new(end, $"{lines.Count} values before END_DATA do not fill rows of {fields} fields");
    }

    /// <summary>The table as text; reading it again gives the same table.</summary>
    public static string Write(CgatsTable table, string fileType = "CGATS.17")
    {
        var text = new StringBuilder(fileType).Append("\n\n");
        foreach (var (keyword, value) in table.Keywords.OrderBy(k => k.Key, StringComparer.Ordinal))
            if (keyword is not ("NUMBER_OF_SETS" or "NUMBER_OF_FIELDS"))
                text.Append(keyword).Append(" \"").Append(value).Append("\"\n");
        text.Append(CultureInfo.InvariantCulture, $"NUMBER_OF_FIELDS {table.Fields.Length}\nBEGIN_DATA_FORMAT\n");
        text.AppendJoin('\t', table.Fields).Append("\nEND_DATA_FORMAT\n");
        text.Append(CultureInfo.InvariantCulture, $"NUMBER_OF_SETS {table.Rows.Length}\nBEGIN_DATA\n");
        foreach (var row in table.Rows)
            text.AppendJoin('\t', row.Select(Quoted)).Append('\n');
        return text.Append("END_DATA\n").ToString();
    }

    private static string Quoted(string value) =>
        value.Length == 0 || value.Any(c => char.IsWhiteSpace(c) || c == '#') ? $"\"{value}\"" : value;

    private static List<string> Words(string line, int number)
    {
        var words = new List<string>();
        var i = 0;
        while (i < line.Length && line[i] != '#')
        {
            if (char.IsWhiteSpace(line[i]))
            {
                i++;
                continue;
            }
            var quoted = line[i] == '"';
            var start = quoted ? i + 1 : i;
            i = start;
            while (i < line.Length && (quoted ? line[i] != '"' : !char.IsWhiteSpace(line[i])))
                i++;
            if (quoted && i == line.Length)
                throw new CgatsException(number, "a quotation mark is not closed");
            words.Add(line[start..i]);
            if (quoted)
                i++;
        }
        return words;
    }
}
