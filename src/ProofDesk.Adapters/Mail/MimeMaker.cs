using System.Text;
using MimeKit;
using MimeKit.Utils;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Mail;

internal sealed record Attachment(string Name, string MediaType, byte[] Bytes);

/// <summary>
/// Letter to bytes, once. The bytes are what every try sends, so a try that is repeated after a lost answer is the same message
/// with the same Message-ID and Date.
/// </summary>
internal static class MimeMaker
{
    // RFC 2047 section 2: an encoded word has at most 75 characters; 45 bytes are 60 of base64, and 12 frame them.
    private const int EncodedWordBytes = 45;

    public static byte[] Make(
        Letter letter,
        OutboxMail mail,
        ShopSettings shop,
        MailSettings settings,
        DateTimeOffset date,
        IReadOnlyList<Attachment> attachments
    )
    {
        using var message = new MimeMessage();
        message.From.Add(new MailboxAddress(shop.Name, settings.From));
        if (MailAddresses.Problem(shop.ReplyTo) is null)
        {
            message.ReplyTo.Add(new MailboxAddress(shop.Name, shop.ReplyTo));
        }
        message.To.Add(new MailboxAddress("", mail.Recipient));
        Subject(message, letter.Subject);
        message.Date = date;
        message.MessageId = $"{mail.Id}@{settings.MessageIdDomain}";
        if (mail.OrderId is { } order)
        {
            // One made-up ancestor an order: mail programs put all its versions into one thread.
            message.InReplyTo = $"order-{order}@{settings.MessageIdDomain}";
            message.References.Add(message.InReplyTo);
        }
        message.Headers.Add(HeaderId.AutoSubmitted, "auto-generated");
        message.Body = Body(letter, attachments, mail);
        using var bytes = new MemoryStream();
        var format = FormatOptions.Default.Clone();
        format.NewLineFormat = NewLineFormat.Dos;
        message.WriteTo(format, bytes);
        return bytes.ToArray();
    }

    // RFC 2047 section 7: what looks like an encoded word is read as one, also when somebody typed it. Then all of it is encoded.
    private static void Subject(MimeMessage message, string subject)
    {
        message.Subject = subject;
        if (!subject.Contains("=?", StringComparison.Ordinal))
        {
            return;
        }
        var words = new List<string>();
        var word = new List<byte>(EncodedWordBytes);
        Span<byte> utf8 = stackalloc byte[4];
        foreach (var rune in subject.EnumerateRunes())
        {
            var length = rune.EncodeToUtf8(utf8);
            if (word.Count + length > EncodedWordBytes)
            {
                Close();
            }
            word.AddRange(utf8[..length]);
        }
        Close();
        message
            .Headers.Single(h => h.Id == HeaderId.Subject)
            .SetRawValue(Encoding.ASCII.GetBytes(" " + string.Join("\r\n ", words) + "\r\n"));

        void Close()
        {
            words.Add($"=?utf-8?B?{Convert.ToBase64String([.. word])}?=");
            word.Clear();
        }
    }

    private static MimeEntity Body(Letter letter, IReadOnlyList<Attachment> attachments, OutboxMail mail)
    {
        // RFC 2046 section 5.1.4: the plainest form first.
        var forms = new MultipartAlternative { Text("plain", letter.Text), Text("html", letter.Html) };
        forms.Boundary = $"forms-{mail.Id:N}";
        if (attachments.Count == 0)
        {
            return forms;
        }
        var whole = new Multipart("mixed") { forms };
        whole.Boundary = $"whole-{mail.Id:N}";
        foreach (var attachment in attachments)
        {
            whole.Add(
                new MimePart(attachment.MediaType)
                {
                    Content = new MimeContent(new MemoryStream(attachment.Bytes)),
                    ContentDisposition = new ContentDisposition(ContentDisposition.Attachment),
                    ContentTransferEncoding = ContentEncoding.Base64,
                    FileName = attachment.Name,
                }
            );
        }
        return whole;
    }

    private static TextPart Text(string kind, string text)
    {
        var part = new TextPart(kind) { ContentTransferEncoding = ContentEncoding.QuotedPrintable };
        part.SetText(Encoding.UTF8, text);
        return part;
    }
}
