using System.Buffers.Binary;
using System.Text;

namespace ProofDesk.Adapters.Codecs.Layers;

/// <summary>One page of a TIFF, as its directory describes it.</summary>
/// <param name="Index">Counted from 0 over all directories, as decoders count.</param>
/// <param name="IsPart">A reduced copy or a mask of another page.</param>
internal sealed record TiffPage(int Index, string? PageName, string? Description, string? Document, bool IsPart);

/// <summary>
/// Names of the pages of a TIFF (TIFF 6.0, section 2 and 12), which the picture library does not tell. Only tags are read, and
/// nothing outside the file: an offset that points out of it ends the search.
/// </summary>
internal static class TiffPages
{
    private const int NewSubfileType = 254;
    private const int DocumentName = 269;
    private const int ImageDescription = 270;
    private const int PageName = 285;

    public static IReadOnlyList<TiffPage> Of(ReadOnlySpan<byte> file, int most)
    {
        var pages = new List<TiffPage>();
        if (file.Length < 16)
            return pages;
        var little = file[0] == 'I';
        var big = Number(file, 2, 2, little) == 43;
        var (offset, word) = big ? (8, 8) : (4, 4);
        var at = Number(file, offset, word, little);
        var seen = new HashSet<long>();
        while (at > 0 && pages.Count < most && seen.Add(at))
        {
            var (countBytes, entryBytes) = big ? (8, 20) : (2, 12);
            var count = Number(file, at, countBytes, little);
            if (count is < 0 or > 4096 || at + countBytes + count * entryBytes + word > file.Length)
                break;
            var page = new TiffPage(pages.Count, null, null, null, false);
            for (var i = 0; i < count; i++)
                page = With(page, file, at + countBytes + i * entryBytes, big, little);
            pages.Add(page);
            at = Number(file, at + countBytes + count * entryBytes, word, little);
        }
        return pages;
    }

    private static TiffPage With(TiffPage page, ReadOnlySpan<byte> file, long entry, bool big, bool little) =>
        Number(file, entry, 2, little) switch
        {
            NewSubfileType => page with { IsPart = (Number(file, entry + (big ? 12 : 8), 4, little) & 0b101) != 0 },
            DocumentName => page with { Document = Text(file, entry, big, little) },
            ImageDescription => page with { Description = Text(file, entry, big, little) },
            PageName => page with { PageName = Text(file, entry, big, little) },
            _ => page,
        };

    /// <summary>The first line of an ASCII tag (type 2); UTF-8 is what programs really write.</summary>
    private static string? Text(ReadOnlySpan<byte> file, long entry, bool big, bool little)
    {
        var word = big ? 8 : 4;
        var length = Number(file, entry + 4, word, little);
        if (Number(file, entry + 2, 2, little) != 2 || length is < 1 or > 65536)
            return null;
        var at = length <= word ? entry + 4 + word : Number(file, entry + 4 + word, word, little);
        if (at < 0 || at + length > file.Length)
            return null;
        var text = Encoding.UTF8.GetString(file.Slice((int)at, (int)length));
        var line = text.TrimStart().Split(['\0', '\n', '\r'], 2)[0];
        var plain = new string([.. line.Where(c => !char.IsControl(c) && c != '\uFFFD')]).Trim();
        return plain.Length == 0 ? null : plain;
    }

    /// <summary>An unsigned number; -1 when it lies outside the file or is larger than any offset.</summary>
    private static long Number(ReadOnlySpan<byte> file, long at, int bytes, bool little)
    {
        if (at < 0 || at + bytes > file.Length)
            return -1;
        var span = file.Slice((int)at, bytes);
        return bytes switch
        {
            2 => little ? BinaryPrimitives.ReadUInt16LittleEndian(span) : BinaryPrimitives.ReadUInt16BigEndian(span),
            4 => little ? BinaryPrimitives.ReadUInt32LittleEndian(span) : BinaryPrimitives.ReadUInt32BigEndian(span),
            _ => (little ? BinaryPrimitives.ReadUInt64LittleEndian(span) : BinaryPrimitives.ReadUInt64BigEndian(span))
                is var number
            && number <= int.MaxValue
                ? (long)number
                : -1,
        };
    }
}
