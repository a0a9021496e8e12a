using System.Globalization;
using System.Text;
using System.Text.Json;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Layout;

/// <summary>One version of something the shop defined, and in words what made it another one.</summary>
public sealed record HistoryRow(int Version, DateTimeOffset At, string By, IReadOnlyList<string> Changes);

/// <summary>
/// What changed from version to version, read from what was stored: field by field, old value and new. Long texts and files are said
/// to be other ones.
/// </summary>
public static class DefinitionHistory
{
    private const int MostChanges = 8;
    private const int LongestValue = 40;

    /// <param name="rows">the newest first</param>
    /// <param name="label">words for a field by its path, such as "hourRate"; null leaves its own</param>
    public static IReadOnlyList<HistoryRow> Of(
        IReadOnlyList<ShopDefinition> rows,
        Func<string, string?>? label = null
    ) =>
        [
            .. rows.Select(
                (row, i) =>
                    new HistoryRow(
                        row.Version,
                        row.CreatedAt,
                        row.CreatedBy,
                        i + 1 < rows.Count ? Between(rows[i + 1], row, label) : ["first written"]
                    )
            ),
        ];

    private static List<string> Between(ShopDefinition before, ShopDefinition after, Func<string, string?>? label)
    {
        var said = new List<string>();
        if (after.RetiredAt is not null && before.RetiredAt is null)
            said.Add("taken out of use");
        if (after.RetiredAt is null && before.RetiredAt is not null)
            said.Add("brought back into use");
        var (old, now) = (Leaves(before.Json), Leaves(after.Json));
        foreach (var path in old.Keys.Union(now.Keys))
        {
            var (was, becomes) = (old.GetValueOrDefault(path), now.GetValueOrDefault(path));
            if (was != becomes)
                said.Add($"{label?.Invoke(path) ?? Words(path)}: {Change(was, becomes)}");
        }
        if (said.Count == 0)
            return ["nothing differs"];
        return said.Count <= MostChanges
            ? said
            : [.. said.Take(MostChanges), $"and {said.Count - MostChanges} further fields"];
    }

    private static string Change(string? was, string? becomes) =>
        (was, becomes) switch
        {
            ({ Length: > LongestValue }, { }) or ({ }, { Length: > LongestValue }) => "another text",
            (null, { Length: > LongestValue }) => "new",
            (null, _) => $"new, {becomes}",
            (_, null) => $"left out, was {(was!.Length > LongestValue ? "a text" : was)}",
            _ => $"{was}, now {becomes}",
        };

    /// <summary>Every value that is no object or list, by the path to it.</summary>
    private static Dictionary<string, string> Leaves(string json)
    {
        using var document = JsonDocument.Parse(json);
        var leaves = new Dictionary<string, string>(StringComparer.Ordinal);
        Walk(document.RootElement, "", leaves);
        return leaves;
    }

    private static void Walk(JsonElement element, string path, Dictionary<string, string> leaves)
    {
        switch (element.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (var member in element.EnumerateObject())
                    Walk(member.Value, path.Length == 0 ? member.Name : $"{path}/{member.Name}", leaves);
                break;
            case JsonValueKind.Array:
                var items = element.EnumerateArray().ToList();
                // A list of plain values is one value; things of a list go by their names.
                if (items.TrueForAll(item => item.ValueKind is not (JsonValueKind.Object or JsonValueKind.Array)))
                    leaves[path] = items.Count == 0 ? "none" : string.Join(", ", items.Select(Said));
                else
                    for (var i = 0; i < items.Count; i++)
                        Walk(
                            items[i],
                            $"{path}/{NameOf(items[i]) ?? (i + 1).ToString(CultureInfo.InvariantCulture)}",
                            leaves
                        );
                break;
            case JsonValueKind.Null or JsonValueKind.Undefined:
                break;
            default:
                leaves[path] = Said(element);
                break;
        }
    }

    private static string? NameOf(JsonElement item) =>
        item.ValueKind == JsonValueKind.Object
        && item.TryGetProperty("name", out var name)
        && name.ValueKind == JsonValueKind.String
            ? name.GetString()
            : null;

    private static string Said(JsonElement value) =>
        value.ValueKind switch
        {
            JsonValueKind.True => "yes",
            JsonValueKind.False => "no",
            JsonValueKind.Number => value.GetDouble().ToString("0.######", CultureInfo.InvariantCulture),
            JsonValueKind.String when value.GetString() is { Length: > 0 } text => text,
            JsonValueKind.String => "empty",
            _ => value.GetRawText(),
        };

    /// <summary>"record/frame/innerWidthMm" as "frame inner width mm".</summary>
    private static string Words(string path)
    {
        var words = new StringBuilder();
        foreach (var c in path.StartsWith("record/", StringComparison.Ordinal) ? path["record/".Length..] : path)
        {
            if (c is '/' or '-')
                words.Append(' ');
            else if (char.IsUpper(c) && words.Length > 0 && words[^1] != ' ')
                words.Append(' ').Append(char.ToLowerInvariant(c));
            else
                words.Append(words.Length == 0 ? char.ToLowerInvariant(c) : c);
        }
        return words.ToString();
    }
}
