using System.Text;

namespace ProofDesk.Adapters.Codecs;

/// <summary>Tells what a file is from its first bytes; the name is never asked.</summary>
internal static class ArtFormat
{
    public const string Png = "png";
    public const string Jpeg = "jpeg";
    public const string Tiff = "tiff";
    public const string WebP = "webp";
    public const string Svg = "svg";
    public const string Pdf = "pdf";

    /// <summary>Pictures of one print, one a layer.</summary>
    public const string Zip = "zip";

    /// <summary>The list that every message gives.</summary>
    private const string Readable = "png, jpeg, tiff, webp, svg, pdf and a zip of layers are read";

    /// <summary>One of the readable formats.</summary>
    /// <exception cref="UnreadableArt">Something else; the message names it where it is known.</exception>
    public static string Of(ReadOnlySpan<byte> file)
    {
        if (file.IsEmpty)
            throw new UnreadableArt("empty-file", "the file is empty", "choose the file again and send it once more");
        if (file.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]))
            return Png;
        if (file.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]))
            return Jpeg;
        if (
            file.StartsWith("II*\0"u8)
            || file.StartsWith("MM\0*"u8)
            || file.StartsWith("II+\0"u8)
            || file.StartsWith("MM\0+"u8)
        )
            return Tiff;
        if (file.Length >= 12 && file.StartsWith("RIFF"u8) && file[8..12].SequenceEqual("WEBP"u8))
            return WebP;
        if (file.StartsWith("%PDF-"u8))
            return Pdf;
        if (file.StartsWith("PK\x3\x4"u8) || file.StartsWith("PK\x5\x6"u8))
            return Zip;
        if (LooksLikeSvg(file))
            return Svg;
        var kind = Stranger(file);
        throw new UnreadableArt(
            "format-not-read",
            kind is null
                ? $"this is not a picture file that can be read here; {Readable}"
                : $"this is {kind}; {Readable}",
            "save the art as png with transparency, or as svg, and send that"
        );
    }

    /// <summary>The root element must come within the first 64 kB: only a declaration, comments and a doctype may precede it.</summary>
    private static bool LooksLikeSvg(ReadOnlySpan<byte> file)
    {
        var head = SvgText.Decode(file[..Math.Min(file.Length, 65536)]).TrimStart('\uFEFF', ' ', '\t', '\r', '\n');
        if (!head.StartsWith('<'))
            return false;
        for (var at = 0; at < head.Length && head[at] == '<'; )
        {
            if (head.AsSpan(at).StartsWith("<svg") || head.AsSpan(at).StartsWith("<svg:svg"))
                return true;
            var end =
                head.AsSpan(at).StartsWith("<!--") ? After(head, "-->", at)
                : head.AsSpan(at).StartsWith("<?") ? After(head, "?>", at)
                : head.AsSpan(at).StartsWith("<!DOCTYPE svg") ? AfterDoctype(head, at)
                : -1;
            if (end < 0)
                return false;
            at = end;
            while (at < head.Length && char.IsWhiteSpace(head[at]))
                at++;
        }
        return false;
    }

    private static int After(string text, string mark, int from)
    {
        var at = text.IndexOf(mark, from, StringComparison.Ordinal);
        return at < 0 ? -1 : at + mark.Length;
    }

    private static int AfterDoctype(string text, int from)
    {
        var close = text.IndexOf('>', from);
        var subset = text.IndexOf('[', from);
        return subset >= 0 && subset < close ? After(text, "]>", subset)
            : close < 0 ? -1
            : close + 1;
    }

    private static string? Stranger(ReadOnlySpan<byte> file) =>
        file.StartsWith("%!PS"u8) || file.StartsWith((ReadOnlySpan<byte>)[0xC5, 0xD0, 0xD3, 0xC6]) ? "a postscript file"
        : file.StartsWith("8BPS"u8) ? "a layered photo document"
        : file.StartsWith("GIF8"u8) ? "a gif file"
        : file.StartsWith("BM"u8) ? "a bmp file"
        : file.Length >= 12 && file[4..8].SequenceEqual("ftyp"u8) ? "a heif, avif or video file"
        : IsText(file) ? "a text file"
        : null;

    private static bool IsText(ReadOnlySpan<byte> file) =>
        Encoding.UTF8.GetString(file[..Math.Min(512, file.Length)]).All(c => c >= ' ' || c is '\t' or '\r' or '\n');
}
