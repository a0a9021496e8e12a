using System.Net;
using System.Text;

namespace ProofDesk.Adapters.Mail;

/// <summary>What a mail says, in both its forms.</summary>
public sealed record Letter(string Subject, string Text, string Html);

/// <summary>
/// Builds both forms of a letter from the same paragraphs, so that they cannot drift apart. One column, system fonts, no picture
/// from elsewhere, no script; a link stands on a line of its own in the text part.
/// </summary>
internal sealed class LetterMaker(string subject, string language)
{
    private readonly StringBuilder _text = new();
    private readonly StringBuilder _html = new();

    public LetterMaker Say(string paragraph)
    {
        _text.Append(paragraph).Append("\n\n");
        _html.Append("<p>").Append(Escape(paragraph).Replace("\n", "<br>", StringComparison.Ordinal)).Append("</p>\n");
        return this;
    }

    public LetterMaker SayIfAny(string paragraph) =>
        string.IsNullOrWhiteSpace(paragraph) ? this : Say(paragraph.Trim());

    public LetterMaker Facts(params ReadOnlySpan<(string Name, string Value)> facts)
    {
        _html.Append("<table role=\"presentation\" style=\"border-collapse:collapse\">\n");
        foreach (var (name, value) in facts)
        {
            if (value.Length > 0)
            {
                _text.Append(name).Append(": ").Append(value).Append('\n');
                _html
                    .Append("<tr><td style=\"padding:2px 16px 2px 0\">")
                    .Append(Escape(name))
                    .Append("</td><td><strong>");
                _html.Append(Escape(value)).Append("</strong></td></tr>\n");
            }
        }
        _text.Append('\n');
        _html.Append("</table>\n");
        return this;
    }

    public LetterMaker Link(string label, string address)
    {
        _text.Append(label).Append(":\n").Append(address).Append("\n\n");
        _html.Append("<p><a href=\"").Append(Escape(address));
        _html.Append(
            "\" style=\"display:inline-block;padding:12px 20px;background:#1d4ed8;color:#ffffff;text-decoration:none;"
        );
        _html.Append("border-radius:6px\">").Append(Escape(label)).Append("</a></p>\n");
        return this;
    }

    public Letter Make()
    {
        var html = $"""
            <!DOCTYPE html>
            <html lang="{Escape(language)}" dir="ltr">
            <head>
            <meta charset="utf-8">
            <meta name="viewport" content="width=device-width">
            <meta name="color-scheme" content="light dark">
            <title>{Escape(subject)}</title>
            </head>
            <body style="margin:0 auto;max-width:600px;padding:16px;font-family:system-ui,sans-serif;font-size:16px;line-height:1.5">
            {_html}</body>
            </html>

            """;
        return new Letter(subject, _text.ToString().TrimEnd('\n') + "\n", html.ReplaceLineEndings("\n"));
    }

    private static string Escape(string text) => WebUtility.HtmlEncode(text);
}
