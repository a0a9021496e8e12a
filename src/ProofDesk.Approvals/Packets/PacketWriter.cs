using System.Security.Cryptography;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Packets;

/// <summary>
/// Writes a packet. Every bound file is read twice: once to compare it with both its digests and to take its check sum,
/// before a single byte leaves; then to copy it. The same packet gives the same bytes.
/// </summary>
public static class PacketWriter
{
    private const int BufferBytes = 81920;

    /// <summary>Bytes of the finished archive, for a Content-Length.</summary>
    public static long Length(Packet packet)
    {
        var opened = OpenedPacket.Of(packet);
        return StoredZip.Length([
            .. opened.SmallFiles().Select(f => (f.Name, (long)f.Bytes.Length)),
            .. opened.Manifest.Files.Select(f => (PacketNames.File(f), f.Bytes)),
        ]);
    }

    /// <summary>
    /// Writes the archive to a stream that need not seek. Refuses with <see cref="RecordFormatException"/>, before
    /// writing anything, a packet its own verifier would refuse and a file that is not the one bound.
    /// </summary>
    public static async Task WriteAsync(
        Stream output,
        Packet packet,
        Func<ManifestFile, Stream> open,
        CancellationToken cancellation = default
    )
    {
        var opened = OpenedPacket.Of(packet);
        if (PacketCheck.Record(opened).FirstOrDefault(s => s.Outcome == StepOutcome.Failed) is { } failed)
        {
            throw new RecordFormatException($"the packet cannot be sealed: {failed.Text}");
        }

        if (Length(packet) > uint.MaxValue)
        {
            throw new RecordFormatException($"the packet has {Length(packet)} bytes, an archive holds {uint.MaxValue}");
        }

        var sums = new List<uint>();
        foreach (var file in opened.Manifest.Files)
        {
            await using var source = open(file);
            sums.Add(await Checked(file, source, cancellation));
        }

        await Write(output, opened, sums, open, cancellation);
    }

    private static async Task Write(
        Stream output,
        OpenedPacket opened,
        List<uint> sums,
        Func<ManifestFile, Stream> open,
        CancellationToken cancellation
    )
    {
        var entries = new List<ZipEntry>();
        var offset = 0u;
        foreach (var (name, bytes) in opened.SmallFiles())
        {
            var crc = new Crc32();
            crc.Add(bytes);
            await Head(name, (uint)bytes.Length, crc.Value);
            await output.WriteAsync(bytes, cancellation);
        }

        foreach (var (file, sum) in opened.Manifest.Files.Zip(sums))
        {
            await Head(PacketNames.File(file), (uint)file.Bytes, sum);
            await using var source = open(file);
            await Copy(file, source, output, sum, cancellation);
        }

        var start = offset;
        foreach (var entry in entries)
        {
            var header = StoredZip.CentralHeader(entry);
            await output.WriteAsync(header, cancellation);
            offset += (uint)header.Length;
        }

        await output.WriteAsync(StoredZip.End(entries.Count, offset - start, start), cancellation);

        async Task Head(string name, uint bytes, uint crc)
        {
            var entry = new ZipEntry(name, bytes, crc, offset);
            var header = StoredZip.LocalHeader(entry);
            await output.WriteAsync(header, cancellation);
            entries.Add(entry);
            offset += (uint)header.Length + bytes;
        }
    }

    private static async Task<uint> Checked(ManifestFile file, Stream source, CancellationToken cancellation)
    {
        using var digests = new FileDigests();
        var buffer = new byte[BufferBytes];
        for (int read; (read = await source.ReadAsync(buffer, cancellation)) > 0; )
        {
            digests.Add(buffer.AsSpan(0, read));
        }

        return digests.Differs(file) is { } difference
            ? throw new RecordFormatException($"the packet cannot be sealed: {difference}")
            : digests.Crc;
    }

    private static async Task Copy(
        ManifestFile file,
        Stream source,
        Stream output,
        uint sum,
        CancellationToken cancellation
    )
    {
        var crc = new Crc32();
        var copied = 0L;
        var buffer = new byte[BufferBytes];
        for (int read; (read = await source.ReadAsync(buffer, cancellation)) > 0; copied += read)
        {
            crc.Add(buffer.AsSpan(0, read));
            await output.WriteAsync(buffer.AsMemory(0, read), cancellation);
        }

        if (copied != file.Bytes || crc.Value != sum)
        {
            throw new RecordFormatException($"{file.Path} changed while the packet was written");
        }
    }
}

/// <summary>Size, both digests and check sum of one file, taken while it streams by.</summary>
internal sealed class FileDigests : IDisposable
{
    private readonly IncrementalHash sha256 = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private readonly IncrementalHash sha512 = IncrementalHash.CreateHash(HashAlgorithmName.SHA512);
    private Crc32 crc;
    private long bytes;

    public uint Crc => crc.Value;

    public void Add(ReadOnlySpan<byte> data)
    {
        sha256.AppendData(data);
        sha512.AppendData(data);
        crc.Add(data);
        bytes += data.Length;
    }

    /// <summary>What differs from the manifest, or null.</summary>
    public string? Differs(ManifestFile file)
    {
        if (bytes != file.Bytes)
        {
            return $"{file.Path} has {bytes} bytes, the manifest says {file.Bytes}";
        }

        if (Sha256Digest.FromHash(sha256.GetHashAndReset()) != file.Sha256)
        {
            return $"{file.Path} is not the file of the manifest (SHA-256 differs)";
        }

        return string.Equals(
            Convert.ToHexStringLower(sha512.GetHashAndReset()),
            file.Sha512Hex,
            StringComparison.Ordinal
        )
            ? null
            : $"{file.Path} is not the file of the manifest (SHA-512 differs)";
    }

    public void Dispose()
    {
        sha256.Dispose();
        sha512.Dispose();
    }
}
