using System.Collections.Immutable;
using System.Text;

namespace ProofDesk.Printing.Rosters;

/// <summary>A record of a CSV text and the line it starts on.</summary>
internal readonly record struct CsvRecord(int Line, ImmutableArray<string> Fields);

/// <summary>
/// Comma-separated values as RFC 4180 writes them: fields in quotes may hold separators, line ends and doubled quotes. A
/// bare line feed ends a record too, and a semicolon separates when the first line has more of them than commas, as
/// spreadsheets of half of Europe write it.
/// </summary>
internal static class CsvText
{
    /// <summary>The records, or where a quote is not closed (line of the record) as <paramref name="unclosedLine"/>.</summary>
    public static ImmutableArray<CsvRecord> Read(string text, out int? unclosedLine)
    {
        var records = ImmutableArray.CreateBuilder<CsvRecord>();
        var fields = ImmutableArray.CreateBuilder<string>();
        var field = new StringBuilder();
        var head = text.AsSpan();
        head = head[..(head.IndexOfAny('\r', '\n') is >= 0 and var end ? end : head.Length)];
        var separator = head.Count(';') > head.Count(',') ? ';' : ',';
        var (line, start, quoted) = (1, 1, false);
        unclosedLine = null;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (c == '\n')
                line++;
            if (quoted)
            {
                if (c != '"')
                    field.Append(c);
                else if (i + 1 < text.Length && text[i + 1] == '"')
                    field.Append(text[++i]);
                else
                    quoted = false;
            }
            else if (c == '"' && field.Length == 0)
                quoted = true;
            else if (c == separator)
                Field();
            else if (c == '\n')
                Record();
            else if (c != '\r' || i + 1 < text.Length && text[i + 1] != '\n')
                field.Append(c);
        }
        if (quoted)
            unclosedLine = start;
        else if (field.Length > 0 || fields.Count > 0)
            Record();
        return records.ToImmutable();

        void Field()
        {
            fields.Add(field.ToString());
            field.Clear();
        }

        void Record()
        {
            Field();
            // An empty line is no record.
            if (fields.Count > 1 || fields[0].Length > 0)
                records.Add(new(start, fields.ToImmutable()));
            fields.Clear();
            start = line;
        }
    }
}
