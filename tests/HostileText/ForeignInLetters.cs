using MimeKit;

namespace ProofDesk.HostileText;

/// <summary>A letter as a mail program reads it: headers that we write, each once, to one recipient; and no foreign markup.</summary>
public static class ForeignInLetters
{
    private static readonly string[] Ours =
    [
        "From",
        "To",
        "Date",
        "Subject",
        "Message-Id",
        "MIME-Version",
        "Content-Type",
        "Auto-Submitted",
        "Reply-To",
        "In-Reply-To",
        "References",
        "List-Unsubscribe",
        "List-Unsubscribe-Post",
        "X-Auto-Response-Suppress",
        "Content-Transfer-Encoding",
    ];

    /// <param name="server">what the links of the letter begin with</param>
    public static IEnumerable<string> In(MimeMessage letter, string server)
    {
        foreach (var header in letter.Headers.GroupBy(h => h.Field))
        {
            if (!Ours.Contains(header.Key, StringComparer.OrdinalIgnoreCase))
                yield return $"header {header.Key}";
            if (header.Count() > 1)
                yield return $"{header.Key} twice";
        }
        if (letter.To.Mailboxes.Count() != 1 || letter.Cc.Count + letter.Bcc.Count > 0)
            yield return $"{letter.To.Mailboxes.Count()} recipients";
        if (letter.HtmlBody is not { } html)
            yield break;
        // Mail programs know no nonce: styles stand at the elements.
        var markup = ForeignMarkup
            .In(ForeignMarkup.Parse(html.Replace($"href=\"{server}/", "href=\"/", StringComparison.Ordinal)), "")
            .Where(f =>
                !f.StartsWith("attribute style", StringComparison.Ordinal)
                && !f.StartsWith("style without", StringComparison.Ordinal)
            );
        foreach (var fault in markup)
            yield return fault;
    }
}
