using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;

namespace ProofDesk.Adapters.Tests.Codecs;

/// <summary>Files made byte by byte, because no honest program writes them.</summary>
internal static class BrokenFiles
{
    /// <summary>A PNG whose header claims any size; its data are a few zeros.</summary>
    public static byte[] Png(
        int width,
        int height,
        byte depth = 8,
        byte colourType = 6,
        params (string, byte[])[] chunks
    )
    {
        using var file = new MemoryStream();
        file.Write([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]);
        var header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), height);
        (header[8], header[9]) = (depth, colourType);
        Chunk(file, "IHDR", header);
        foreach (var (name, data) in chunks)
            Chunk(file, name, data);
        Chunk(file, "IDAT", Deflated(new byte[64]));
        Chunk(file, "IEND", []);
        return file.ToArray();
    }

    public static byte[] Deflated(byte[] data)
    {
        using var packed = new MemoryStream();
        using (var zip = new ZLibStream(packed, CompressionLevel.Optimal, true))
            zip.Write(data);
        return packed.ToArray();
    }

    private static void Chunk(MemoryStream file, string name, byte[] data)
    {
        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(number, data.Length);
        file.Write(number);
        byte[] body = [.. Encoding.ASCII.GetBytes(name), .. data];
        file.Write(body);
        BinaryPrimitives.WriteUInt32BigEndian(number, Crc(body));
        file.Write(number);
    }

    /// <summary>CRC-32 of ISO 3309, bit by bit.</summary>
    private static uint Crc(byte[] data)
    {
        var crc = uint.MaxValue;
        foreach (var b in data)
        {
            crc ^= b;
            for (var i = 0; i < 8; i++)
                crc = (crc & 1) != 0 ? crc >> 1 ^ 0xEDB88320 : crc >> 1;
        }
        return ~crc;
    }
}
