using System.Text;

namespace ProofDesk.HostileText;

/// <summary>Writes form fields as bytes, halves of characters included, which an encoder of the framework would mend first.</summary>
public static class HostileForm
{
    public static HttpContent Encoded(IEnumerable<KeyValuePair<string, string>> fields)
    {
        var body = new StringBuilder();
        foreach (var (name, value) in fields)
        {
            if (body.Length > 0)
                body.Append('&');
            Escape(body, name);
            body.Append('=');
            Escape(body, value);
        }
        var content = new StringContent(body.ToString(), Encoding.ASCII);
        content.Headers.ContentType = new("application/x-www-form-urlencoded");
        return content;
    }

    /// <summary>With a file, whose name stands in the header as a browser writes it.</summary>
    public static HttpContent WithFile(
        IEnumerable<KeyValuePair<string, string>> fields,
        string field,
        string fileName,
        byte[] bytes
    )
    {
        const string boundary = "----pdx-boundary-of-no-text";
        using var body = new MemoryStream();
        void Write(string text) => body.Write(Bytes(text));
        foreach (var (name, value) in fields)
            Write($"--{boundary}\r\nContent-Disposition: form-data; name=\"{Quoted(name)}\"\r\n\r\n{value}\r\n");
        Write(
            $"--{boundary}\r\nContent-Disposition: form-data; name=\"{Quoted(field)}\"; filename=\"{Quoted(fileName)}\"\r\nContent-Type: application/octet-stream\r\n\r\n"
        );
        body.Write(bytes);
        Write($"\r\n--{boundary}--\r\n");
        var content = new ByteArrayContent(body.ToArray());
        content.Headers.TryAddWithoutValidation("Content-Type", $"multipart/form-data; boundary={boundary}");
        return content;
    }

    /// <summary>What a server reads of it: halves of characters are replaced.</summary>
    public static string AsRead(string text) => Encoding.UTF8.GetString(Bytes(text));

    /// <summary>What the framework reads of a field that was sent percent-escaped: bytes that are no text stay escaped.</summary>
    public static string AsLeftEscaped(string text)
    {
        var read = new StringBuilder(text.Length);
        for (var i = 0; i < text.Length; i++)
        {
            if (Rune.TryGetRuneAt(text, i, out var rune))
            {
                read.Append(rune);
                i += rune.Utf16SequenceLength - 1;
            }
            else
            {
                Escape(read, text[i].ToString());
            }
        }
        return read.ToString();
    }

    // HTML, "multipart/form-data encoding algorithm": quotes and line breaks are escaped, nothing else.
    private static string Quoted(string name) =>
        name.Replace("\r", "%0D", StringComparison.Ordinal)
            .Replace("\n", "%0A", StringComparison.Ordinal)
            .Replace("\"", "%22", StringComparison.Ordinal);

    private static void Escape(StringBuilder body, string text)
    {
        foreach (var b in Bytes(text))
        {
            if (char.IsAsciiLetterOrDigit((char)b) || b is (byte)'-' or (byte)'_' or (byte)'.')
                body.Append((char)b);
            else
                body.Append('%').Append(b.ToString("X2"));
        }
    }

    // UTF-8 that also writes a lone half, as three bytes that no UTF-8 text has.
    private static byte[] Bytes(string text)
    {
        var bytes = new List<byte>(text.Length);
        Span<byte> four = stackalloc byte[4];
        for (var i = 0; i < text.Length; i++)
        {
            if (Rune.TryGetRuneAt(text, i, out var rune))
            {
                bytes.AddRange(four[..rune.EncodeToUtf8(four)]);
                i += rune.Utf16SequenceLength - 1;
            }
            else
            {
                bytes.Add((byte)(0xE0 | text[i] >> 12));
                bytes.Add((byte)(0x80 | text[i] >> 6 & 0x3F));
                bytes.Add((byte)(0x80 | text[i] & 0x3F));
            }
        }
        return [.. bytes];
    }
}
