using System.IO.Compression;
using System.Text;
using ProofDesk.Approvals.Packets;

namespace ProofDesk.Approvals.Tests.Packets;

/// <summary>Packets taken apart and put together again, with check sums that fit: only the record's own digests can tell.</summary>
internal static class Archives
{
    public static List<(string Name, byte[] Bytes)> Unpack(byte[] packet)
    {
        using var zip = new ZipArchive(new MemoryStream(packet));
        return
        [
            .. zip.Entries.Select(e =>
            {
                using var to = new MemoryStream();
                e.Open().CopyTo(to);
                return (e.FullName, to.ToArray());
            }),
        ];
    }

    /// <summary>The layout of a packet around any files.</summary>
    public static byte[] Pack(List<(string Name, byte[] Bytes)> files)
    {
        var zip = new List<byte>();
        var entries = new List<ZipEntry>();
        foreach (var (name, bytes) in files)
        {
            var crc = new Crc32();
            crc.Add(bytes);
            entries.Add(new(name, (uint)bytes.Length, crc.Value, (uint)zip.Count));
            zip.AddRange([.. StoredZip.LocalHeader(entries[^1]), .. bytes]);
        }

        var start = (uint)zip.Count;
        zip.AddRange(entries.SelectMany(StoredZip.CentralHeader));
        zip.AddRange(StoredZip.End(entries.Count, (uint)zip.Count - start, start));
        return [.. zip];
    }

    /// <summary>A packet as its writer would make it, were it not for the checks before.</summary>
    public static byte[] Unchecked(Packet packet)
    {
        var opened = OpenedPacket.Of(packet);
        return Pack([
            .. opened.SmallFiles(),
            .. opened.Manifest.Files.Select(f => (PacketNames.File(f), Samples.Files[f.Path])),
        ]);
    }

    /// <summary>The same archive with the bytes of one file exchanged.</summary>
    public static byte[] With(byte[] packet, string name, Func<byte[], byte[]> change) =>
        Pack([.. Unpack(packet).Select(f => f.Name == name ? (f.Name, change(f.Bytes)) : f)]);

    /// <summary>The same archive with words of one file exchanged, which must be there.</summary>
    public static byte[] With(byte[] packet, string name, string from, string to) =>
        With(
            packet,
            name,
            bytes =>
            {
                var text = Encoding.UTF8.GetString(bytes);
                Assert.Contains(from, text, StringComparison.Ordinal);
                return Encoding.UTF8.GetBytes(text.Replace(from, to, StringComparison.Ordinal));
            }
        );
}
