using System.Buffers.Binary;
using System.Text;

namespace ProofDesk.Approvals.Packets;

/// <summary>One file in the archive.</summary>
internal sealed record ZipEntry(string Name, uint Bytes, uint Crc, uint Offset);

/// <summary>
/// The one way a packet is laid out as ZIP (APPNOTE.TXT 6.3): stored, no extra fields, no comments, one fixed time. Every
/// byte of it follows from names, sizes and contents, so the verifier can demand each of them; compression would
/// make the bytes depend on a library's version.
/// </summary>
internal static class StoredZip
{
    public const int LocalHeaderBytes = 30;
    public const int EndBytes = 22;
    public const int CentralHeaderBytes = 46;

    private const ushort VersionNeeded = 10;
    private const ushort MadeByUnix = (3 << 8) | 30;
    private const ushort FirstDay = (1 << 5) | 1; // 1 January 1980, the first day ZIP can say
    private const uint PlainFile = 0x81A4u << 16; // -rw-r--r--

    public static byte[] LocalHeader(ZipEntry entry)
    {
        var header = new byte[LocalHeaderBytes + entry.Name.Length];
        BinaryPrimitives.WriteUInt32LittleEndian(header, 0x04034b50);
        BinaryPrimitives.WriteUInt16LittleEndian(header.AsSpan(4), VersionNeeded);
        WriteFacts(header.AsSpan(6), entry);
        Encoding.ASCII.GetBytes(entry.Name, header.AsSpan(LocalHeaderBytes));
        return header;
    }

    public static byte[] CentralHeader(ZipEntry entry)
    {
        var header = new byte[CentralHeaderBytes + entry.Name.Length];
        BinaryPrimitives.WriteUInt32LittleEndian(header, 0x02014b50);
        BinaryPrimitives.WriteUInt16LittleEndian(header.AsSpan(4), MadeByUnix);
        BinaryPrimitives.WriteUInt16LittleEndian(header.AsSpan(6), VersionNeeded);
        WriteFacts(header.AsSpan(8), entry);
        BinaryPrimitives.WriteUInt32LittleEndian(header.AsSpan(38), PlainFile);
        BinaryPrimitives.WriteUInt32LittleEndian(header.AsSpan(42), entry.Offset);
        Encoding.ASCII.GetBytes(entry.Name, header.AsSpan(CentralHeaderBytes));
        return header;
    }

    public static byte[] End(int entries, uint directoryBytes, uint directoryOffset)
    {
        var end = new byte[EndBytes];
        BinaryPrimitives.WriteUInt32LittleEndian(end, 0x06054b50);
        BinaryPrimitives.WriteUInt16LittleEndian(end.AsSpan(8), (ushort)entries);
        BinaryPrimitives.WriteUInt16LittleEndian(end.AsSpan(10), (ushort)entries);
        BinaryPrimitives.WriteUInt32LittleEndian(end.AsSpan(12), directoryBytes);
        BinaryPrimitives.WriteUInt32LittleEndian(end.AsSpan(16), directoryOffset);
        return end;
    }

    /// <summary>Bytes of a whole archive of these files.</summary>
    public static long Length(IEnumerable<(string Name, long Bytes)> files) =>
        EndBytes + files.Sum(f => LocalHeaderBytes + CentralHeaderBytes + (2L * f.Name.Length) + f.Bytes);

    // Flags 0, method 0 (stored), time 0:00, date, check sum, size twice, length of the name: the same in both headers.
    private static void WriteFacts(Span<byte> at, ZipEntry entry)
    {
        BinaryPrimitives.WriteUInt16LittleEndian(at[6..], FirstDay);
        BinaryPrimitives.WriteUInt32LittleEndian(at[8..], entry.Crc);
        BinaryPrimitives.WriteUInt32LittleEndian(at[12..], entry.Bytes);
        BinaryPrimitives.WriteUInt32LittleEndian(at[16..], entry.Bytes);
        BinaryPrimitives.WriteUInt16LittleEndian(at[20..], (ushort)entry.Name.Length);
    }
}
