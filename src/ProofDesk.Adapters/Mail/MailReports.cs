using System.Security.Cryptography;
using MimeKit;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Mail;

/// <summary>What a mail system says became of one letter (RFC 3464), as far as it concerns us.</summary>
/// <param name="ReportId">Message-ID of the report, or a digest of it where it has none</param>
/// <param name="MailId">the row it is about, read from the envelope id we gave or from the returned headers; null when neither is ours</param>
internal sealed record MailReport(
    string ReportId,
    Guid? MailId,
    string Recipient,
    string Action,
    string Status,
    string Diagnostic
)
{
    private const int MostWords = 500;

    private static readonly string[] Actions = ["failed", "delayed", "delivered", "relayed", "expanded"];

    /// <summary>Empty when the message is no delivery report.</summary>
    public static IReadOnlyList<MailReport> Read(byte[] bytes)
    {
        using var message = MimeMessage.Load(new MemoryStream(bytes));
        if (
            message.Body is not MultipartReport report
            || !string.Equals(report.ReportType, "delivery-status", StringComparison.OrdinalIgnoreCase)
            || report.OfType<MessageDeliveryStatus>().FirstOrDefault() is not { } status
            || status.StatusGroups.Count == 0
        )
        {
            return [];
        }
        var id = message.MessageId ?? Convert.ToHexStringLower(SHA256.HashData(bytes));
        var mail = MailOf(status.StatusGroups[0]["Original-Envelope-Id"]) ?? MailOf(ReturnedId(report));
        return
        [
            .. status
                .StatusGroups.Skip(1)
                .Select((group, i) => OfRecipient(i == 0 ? id : $"{id}/{i}", mail, group))
                .Where(one => Actions.Contains(one.Action)),
        ];
    }

    private static MailReport OfRecipient(string id, Guid? mail, HeaderList group) =>
        new(
            id,
            mail,
            Address(group["Original-Recipient"] ?? group["Final-Recipient"]),
            (group["Action"] ?? "").Trim().ToLowerInvariant(),
            Words(group["Status"]),
            Words(group["Diagnostic-Code"])
        );

    // The original comes back whole (message/rfc822) or as its headers only (text/rfc822-headers).
    private static string? ReturnedId(MultipartReport report)
    {
        foreach (var part in report)
        {
            switch (part)
            {
                case MessagePart { Message: { } whole }:
                    return whole.MessageId;
                case TextPart text when text.ContentType.IsMimeType("text", "rfc822-headers"):
                    using (var headers = new MemoryStream(System.Text.Encoding.UTF8.GetBytes(text.Text + "\r\n\r\n")))
                    {
                        return MimeMessage.Load(headers).MessageId;
                    }
            }
        }
        return null;
    }

    // "rfc822; kit@harbour.example"
    private static string Address(string? field) => Words(field?[(field.IndexOf(';', StringComparison.Ordinal) + 1)..]);

    private static Guid? MailOf(string? id) =>
        Guid.TryParse(id?.Trim().Trim('<').Split('@')[0], out var mail) ? mail : null;

    private static string Words(string? field)
    {
        var line = new string([.. (field ?? "").Where(c => !char.IsControl(c))]).Trim();
        return line.Length <= MostWords ? line : line[..MostWords];
    }
}
