using System.Buffers.Binary;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Adapters.Codecs;

/// <summary>
/// How hard a JPEG was compressed, from its own table of quantisation steps (ITU-T T.81, marker DQT): the table for lightness
/// as a multiple of the example of T.81 annex K.1, on the scale of 1 to 100 that most programs use for it.
/// </summary>
internal static class JpegQuality
{
    /// <summary>Below this, blocks and speckle round edges print (our estimate from proofs of lettering).</summary>
    private const int Enough = 70;

    /// <summary>Sum of the 64 steps of table K.1.</summary>
    private const double SumOfK1 = 3688;

    public static Finding? Finding(ReadOnlySpan<byte> file) =>
        Of(file) is not { } quality || quality >= Enough
            ? null
            : new(
                "hard-compression",
                FindingWeight.Warning,
                $"the jpeg was saved at a quality of about {quality} of 100, {Enough} or more keeps edges clean: blocks of 8 px and speckle round edges print with it",
                "supply the original drawing or photograph, or export it again as png, tiff or a jpeg of 90; saving this file again does not help",
                quality,
                Enough,
                "of 100"
            );

    /// <summary>1 to 100; null when the file has no such table before its picture.</summary>
    internal static int? Of(ReadOnlySpan<byte> file)
    {
        for (var at = 2; at + 4 <= file.Length && file[at] == 0xff; )
        {
            var (marker, length) = (file[at + 1], BinaryPrimitives.ReadUInt16BigEndian(file[(at + 2)..]));
            if (marker == 0xda || at + 2 + length > file.Length || length < 2)
                return null;
            if (marker == 0xdb && Steps(file.Slice(at + 4, length - 2)) is { } sum)
                return Quality(100 * sum / SumOfK1);
            at += 2 + length;
        }
        return null;
    }

    /// <summary>Sum of the steps of table 0, that of lightness.</summary>
    private static long? Steps(ReadOnlySpan<byte> tables)
    {
        while (tables.Length > 64)
        {
            var (wide, table) = (tables[0] >> 4 != 0, tables[0] & 15);
            var size = wide ? 128 : 64;
            if (tables.Length < 1 + size)
                return null;
            var steps = tables.Slice(1, size);
            tables = tables[(1 + size)..];
            if (table != 0)
                continue;
            var sum = 0L;
            for (var i = 0; i < 64; i++)
                sum += wide ? BinaryPrimitives.ReadUInt16BigEndian(steps[(2 * i)..]) : steps[i];
            return sum;
        }
        return null;
    }

    private static int Quality(double percent) =>
        (int)Math.Clamp(Math.Round(percent <= 100 ? 100 - percent / 2 : 5000 / percent), 1, 100);
}
