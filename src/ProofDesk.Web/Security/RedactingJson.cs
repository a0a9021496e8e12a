using System.Text;
using System.Text.Json;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Logging.Console;

namespace ProofDesk.Web.Security;

/// <summary>One JSON object a line: time, level, category, message, the message's own values, the exception. Link tokens cut out of each.</summary>
internal sealed class RedactingJson(TimeProvider time) : ConsoleFormatter(FormatterName)
{
    public const string FormatterName = "proofdesk-json";

    public override void Write<TState>(
        in LogEntry<TState> logEntry,
        IExternalScopeProvider? scopeProvider,
        TextWriter textWriter
    )
    {
        using var bytes = new MemoryStream();
        using (var json = new Utf8JsonWriter(bytes))
        {
            json.WriteStartObject();
            json.WriteString("at", time.GetUtcNow().ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'"));
            json.WriteString("level", $"{logEntry.LogLevel}");
            json.WriteString("category", logEntry.Category);
            json.WriteString("message", LinkTokens.Redact(logEntry.Formatter(logEntry.State, logEntry.Exception)));
            if (logEntry.State is IReadOnlyList<KeyValuePair<string, object?>> values)
            {
                json.WriteStartObject("values");
                foreach (var (name, value) in values.Where(v => v.Key != "{OriginalFormat}").DistinctBy(v => v.Key))
                    json.WriteString(name, LinkTokens.Redact($"{value}"));
                json.WriteEndObject();
            }
            if (logEntry.Exception is { } failure)
                json.WriteString("exception", LinkTokens.Redact($"{failure}"));
            json.WriteEndObject();
        }
        textWriter.WriteLine(Encoding.UTF8.GetString(bytes.ToArray()));
    }
}
