using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using ProofDesk.Web.Layout;

namespace ProofDesk.Web.Audit;

/// <summary>Rows of the audit page as files: comma-separated for people's programs, JSON lines for others.</summary>
public static class AuditFiles
{
    public const string Head = "log index,time,kind,what,who,order,title,version,details,digest,record\r\n";

    // A spreadsheet runs what begins so, in their full-width forms too (OWASP, "CSV injection").
    private const string Formula = "=+-@\t\r\n\uff1d\uff0b\uff0d\uff20";

    private static readonly JsonSerializerOptions Lines = new(JsonSerializerDefaults.Web)
    {
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>One record of RFC 4180, with its line end.</summary>
    public static string Csv(AuditRow row) =>
        string.Join(
            ',',
            new[]
            {
                Number(row.LeafIndex),
                Words.Machine(row.At),
                Field(row.Kind),
                Field(row.What),
                Field(row.Who),
                Number(row.Order),
                Field(row.OrderTitle),
                Number(row.Version),
                Field(string.Join("; ", row.Said)),
                row.LeafSha256,
                row.Record ?? "",
            }
        ) + "\r\n";

    public static string JsonLine(AuditRow row) =>
        JsonSerializer.Serialize(
            new
            {
                logIndex = row.LeafIndex,
                time = Words.Machine(row.At),
                row.Kind,
                row.What,
                row.Who,
                row.Order,
                title = row.OrderTitle,
                row.Version,
                details = row.Said,
                digest = row.LeafSha256,
                row.Record,
            },
            Lines
        ) + "\n";

    /// <summary>Defused, then quoted where it must be: an apostrophe in front makes a spreadsheet take it as text.</summary>
    public static string Field(string text)
    {
        var safe =
            text.Length > 0 && Formula.Contains(text.TrimStart(' ') is { Length: > 0 } rest ? rest[0] : ' ')
                ? "'" + text
                : text;
        return safe.AsSpan().IndexOfAny(",\"\r\n") < 0 ? safe : $"\"{safe.Replace("\"", "\"\"")}\"";
    }

    private static string Number(long? number) => number?.ToString(CultureInfo.InvariantCulture) ?? "";
}
