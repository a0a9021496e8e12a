using System.Collections.Immutable;
using System.Text;
using System.Text.Unicode;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Rosters;

/// <summary>What came of reading a list: the roster unless a finding refuses it.</summary>
public sealed record RosterReading(Roster? Roster, ImmutableArray<Finding> Findings);

/// <summary>
/// Reads a list of names and numbers (CSV, UTF-8; columns name, number, size, colour in any order, at least one of the
/// first two). Everything that is wrong is said at once, with file, line and field.
/// </summary>
public static class RosterFile
{
    public const int MostEntries = 500;
    public const int LongestName = 24;
    public const int LongestNumber = 3;

    private static readonly string[] Known = ["name", "number", "size", "colour"];

    public static RosterReading Read(ReadOnlySpan<byte> bytes, string file)
    {
        var problems = ImmutableArray.CreateBuilder<Finding>();
        if (Text(bytes, file, problems) is not { } text)
            return new(null, problems.ToImmutable());
        var records = CsvText.Read(text, out var unclosed);
        if (unclosed is { } at)
            problems.Add(
                Problem(
                    "roster-quote",
                    $"{file}, line {at}: a quotation mark is not closed",
                    "close it, or write it twice"
                )
            );
        var columns = records.IsEmpty ? null : Columns(records[0], file, problems);
        if (columns is null || unclosed is not null)
        {
            if (records.IsEmpty && unclosed is null)
                problems.Add(
                    Problem(
                        "roster-empty",
                        $"{file}: the list is empty",
                        $"begin with a line that names the columns: {string.Join(",", Known)}"
                    )
                );
            return new(null, problems.ToImmutable());
        }
        var entries = ImmutableArray.CreateBuilder<RosterEntry>();
        foreach (var record in records.Skip(1))
            if (Entry(record, columns, records[0].Fields.Length, file, problems) is { } entry)
                entries.Add(entry);
        Whole(entries, file, problems);
        return new(
            problems.Any(p => p.Weight == FindingWeight.Refusal) ? null : new(file, entries.ToImmutable()),
            problems.ToImmutable()
        );
    }

    private static string? Text(ReadOnlySpan<byte> bytes, string file, ImmutableArray<Finding>.Builder problems)
    {
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || bytes.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]))
        {
            problems.Add(
                Problem("roster-encoding", $"{file}: the list is UTF-16, UTF-8 is read", "save it as CSV UTF-8")
            );
            return null;
        }
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]))
            bytes = bytes[3..];
        if (Utf8.IsValid(bytes))
            return Encoding.UTF8.GetString(bytes);
        var at = 0;
        while (
            at < bytes.Length
            && System.Text.Rune.DecodeFromUtf8(bytes[at..], out _, out var used) == System.Buffers.OperationStatus.Done
        )
            at += used;
        problems.Add(
            Problem(
                "roster-encoding",
                $"{file}, line {1 + bytes[..at].Count((byte)'\n')}: byte 0x{bytes[at]:X2} is not UTF-8, the list is saved in another encoding",
                "save it as CSV UTF-8, or letters such as Å and É come out wrong"
            )
        );
        return null;
    }

    private static Dictionary<string, int>? Columns(
        CsvRecord header,
        string file,
        ImmutableArray<Finding>.Builder problems
    )
    {
        var columns = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var i = 0; i < header.Fields.Length; i++)
        {
            var name = header.Fields[i].Trim().ToLowerInvariant();
            name = name is "color" or "garment colour" or "garment color" ? "colour" : name;
            if (!Known.Contains(name))
                continue;
            if (!columns.TryAdd(name, i))
            {
                problems.Add(
                    Problem(
                        "roster-columns",
                        $"{file}, line {header.Line}: the column {name} is there twice",
                        "keep one of them"
                    )
                );
                return null;
            }
        }
        if (columns.ContainsKey("name") || columns.ContainsKey("number"))
            return columns;
        problems.Add(
            Problem(
                "roster-columns",
                $"{file}, line {header.Line}: the columns are {string.Join(", ", header.Fields.Select(f => f.Trim()))}, a name or a number is needed",
                $"name the columns in the first line: {string.Join(",", Known)}"
            )
        );
        return null;
    }

    private static RosterEntry? Entry(
        CsvRecord record,
        Dictionary<string, int> columns,
        int width,
        string file,
        ImmutableArray<Finding>.Builder problems
    )
    {
        var before = problems.Count;
        if (record.Fields.Length != width)
        {
            problems.Add(
                Problem(
                    "roster-fields",
                    $"{file}, line {record.Line}: {record.Fields.Length} fields, the first line names {width}",
                    "put a field that holds a comma in quotation marks"
                )
            );
            return null;
        }
        string Field(string name) => columns.TryGetValue(name, out var at) ? record.Fields[at].Trim() : "";
        var (name, number) = (
            Field("name").ToUpperInvariant().Replace("ß", "SS", StringComparison.Ordinal),
            Field("number")
        );
        void Say(string code, string field, string what, string next) =>
            problems.Add(Problem(code, $"{file}, line {record.Line}, {field}: {what}", next));
        if (name.Length == 0 && number.Length == 0)
            Say(
                "roster-blank",
                columns.ContainsKey("name") ? "name" : "number",
                "neither a name nor a number",
                "fill one in, or take the line out"
            );
        if (name.Length > LongestName)
            Say(
                "roster-too-long",
                "name",
                $"\"{name}\" has {name.Length} letters, {LongestName} are set at most",
                "shorten it"
            );
        if (BlockLetters.Unsupported(name) is { } letter)
            Say(
                "roster-character",
                "name",
                $"\"{letter}\" in \"{name}\" cannot be set",
                $"there are {BlockLetters.Supported}"
            );
        if (number.Length > LongestNumber || number.Any(c => !char.IsAsciiDigit(c)))
            Say(
                "roster-number",
                "number",
                $"\"{number}\" is not a number of one to {LongestNumber} digits",
                "write digits only"
            );
        return problems.Count > before ? null : new(record.Line, name, number, Field("size"), Field("colour"));
    }

    private static void Whole(
        ImmutableArray<RosterEntry>.Builder entries,
        string file,
        ImmutableArray<Finding>.Builder problems
    )
    {
        if (entries.Count == 0 && problems.Count == 0)
            problems.Add(
                Problem(
                    "roster-empty",
                    $"{file}: the list has no line below its columns",
                    "add a line for each garment"
                )
            );
        if (entries.Count > MostEntries)
            problems.Add(
                Problem(
                    "roster-too-many",
                    $"{file}: {entries.Count} lines, {MostEntries} are read at most",
                    "split the list"
                )
            );
        foreach (var same in entries.GroupBy(e => (e.Name, e.Number, e.Size, e.Colour)).Where(g => g.Count() > 1))
            problems.Add(
                Problem(
                    "roster-duplicate",
                    $"{file}, line {same.Last().Line}: the same as line {same.First().Line}",
                    "take one out, or tell them apart"
                )
            );
        foreach (
            var same in entries
                .Where(e => e.Number.Length > 0)
                .GroupBy(e => e.Number)
                .Where(g => g.Select(e => e.Name).Distinct().Count() > 1)
        )
            problems.Add(
                Problem(
                    "roster-number-twice",
                    $"{file}, line {same.Last().Line}, number: {same.Key} is on line {same.First().Line} too, for {Called(same.First())}",
                    "nothing, if two players share it"
                ) with
                {
                    Weight = FindingWeight.Warning,
                }
            );
    }

    private static string Called(RosterEntry entry) => entry.Name.Length > 0 ? entry.Name : "nobody by name";

    private static Finding Problem(string code, string what, string next) =>
        new(code, FindingWeight.Refusal, what, next);
}
