using System.Text.RegularExpressions;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Logging.Console;

namespace ProofDesk.Web.Security;

/// <summary>
/// One line a message, UTC, with every link token cut out whoever logged it: a token in a log would be a second,
/// unwatched way into a proof.
/// </summary>
internal sealed class RedactingConsole(TimeProvider time) : ConsoleFormatter(FormatterName)
{
    public const string FormatterName = "proofdesk";

    public override void Write<TState>(
        in LogEntry<TState> logEntry,
        IExternalScopeProvider? scopeProvider,
        TextWriter textWriter
    )
    {
        var text = LinkTokens.Redact(logEntry.Formatter(logEntry.State, logEntry.Exception));
        textWriter.WriteLine(
            $"{time.GetUtcNow():yyyy-MM-dd HH:mm:ss}Z {Level(logEntry.LogLevel)} {logEntry.Category}: {PlainText.OnOneLine(text)}"
        );
        if (logEntry.Exception is not { } failure)
            return;
        // Indented: what an exception quotes cannot look like a line of the log.
        foreach (var line in LinkTokens.Redact($"{failure}").ReplaceLineEndings("\n").Split('\n'))
            textWriter.WriteLine($"    {PlainText.OnOneLine(line)}");
    }

    private static string Level(LogLevel level) =>
        level switch
        {
            LogLevel.Trace or LogLevel.Debug => "debug",
            LogLevel.Information => "info ",
            LogLevel.Warning => "warn ",
            _ => "ERROR",
        };
}

/// <summary>Finds link tokens in text that is about to leave the process.</summary>
public static partial class LinkTokens
{
    /// <summary>Replaces the token of every review, sheet, first-password and invitation address, and every key of a program, by three dots.</summary>
    public static string Redact(string text) => Token().Replace(text, "${path}...");

    [GeneratedRegex(
        @"(?<path>/(?:r|c|welcome|join)/|secret-token:)[A-Za-z0-9_\-%.~+=]+",
        RegexOptions.ExplicitCapture,
        matchTimeoutMilliseconds: 1000
    )]
    private static partial Regex Token();
}
