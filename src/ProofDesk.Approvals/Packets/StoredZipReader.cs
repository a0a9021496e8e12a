using System.Buffers.Binary;
using System.Text;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Approvals.Packets;

/// <summary>
/// Reads an archive of <see cref="StoredZip"/> forwards and accounts for every byte: whatever the layout does not say is
/// refused. Nothing is ever unpacked to a path.
/// </summary>
internal sealed class StoredZipReader(Stream zip, long maxBytes)
{
    private const int MaxName = 255;

    private readonly List<ZipEntry> entries = [];
    private readonly List<byte> pending = [];
    private long position;

    /// <summary>Length of the next file, whose name must be <paramref name="name"/>.</summary>
    public uint Open(string name)
    {
        var offset = position;
        var head = Read(StoredZip.LocalHeaderBytes, $"the header of {name}");
        var nameBytes = BinaryPrimitives.ReadUInt16LittleEndian(head.AsSpan(26));
        if (BinaryPrimitives.ReadUInt32LittleEndian(head) != 0x04034b50 || nameBytes is 0 or > MaxName)
        {
            throw Damaged($"{name} is missing at byte {offset}");
        }

        var found = Encoding.Latin1.GetString(Read(nameBytes, "a file name"));
        if (!string.Equals(found, name, StringComparison.Ordinal))
        {
            throw Damaged($"{name} is missing at byte {offset}, '{Shown(found)}' stands there");
        }

        var entry = new ZipEntry(
            name,
            BinaryPrimitives.ReadUInt32LittleEndian(head.AsSpan(22)),
            BinaryPrimitives.ReadUInt32LittleEndian(head.AsSpan(14)),
            checked((uint)offset)
        );
        if (!head.AsSpan().SequenceEqual(StoredZip.LocalHeader(entry).AsSpan(0, StoredZip.LocalHeaderBytes)))
        {
            throw Damaged($"the header of {name} at byte {offset} is not as a packet has it");
        }

        entries.Add(entry);
        return entry.Bytes;
    }

    /// <summary>Hands the contents of the file just opened to <paramref name="take"/>, piece by piece.</summary>
    public void Contents(Action<ReadOnlyMemory<byte>> take)
    {
        var entry = entries[^1];
        var crc = new Crc32();
        var buffer = new byte[81920];
        for (var left = (long)entry.Bytes; left > 0; )
        {
            var piece = buffer.AsMemory(0, (int)Math.Min(left, buffer.Length));
            Fill(piece.Span, entry.Name);
            crc.Add(piece.Span);
            take(piece);
            left -= piece.Length;
        }

        if (crc.Value != entry.Crc)
        {
            Note($"the check sum of {entry.Name} does not fit its contents");
        }
    }

    /// <summary>What was found amiss without being a reason to stop reading.</summary>
    public List<string> Notes { get; } = [];

    /// <summary>Checks the directory and that nothing follows it.</summary>
    public void Finish()
    {
        var start = checked((uint)position);
        foreach (var entry in entries)
        {
            Expect(StoredZip.CentralHeader(entry), $"the directory entry of {entry.Name}");
        }

        Expect(StoredZip.End(entries.Count, checked((uint)(position - start)), start), "the end of the archive");
        if (zip.ReadByte() >= 0)
        {
            throw Damaged($"more bytes follow the end of the archive at byte {position}");
        }
    }

    /// <summary>Looks at the first bytes: is this meant to be a packet at all?</summary>
    public bool LooksLikePacket(string firstName)
    {
        var start = new byte[StoredZip.LocalHeaderBytes + firstName.Length];
        var read = zip.ReadAtLeast(start, start.Length, throwOnEndOfStream: false);
        pending.AddRange(start.AsSpan(0, read));
        return (read >= 4 && BinaryPrimitives.ReadUInt32LittleEndian(start) == 0x04034b50)
            || (
                read == start.Length
                && Encoding.Latin1.GetString(start, StoredZip.LocalHeaderBytes, firstName.Length) == firstName
            );
    }

    private void Expect(byte[] expected, string what)
    {
        var offset = position;
        var found = Read(expected.Length, what);
        if (!found.AsSpan().SequenceEqual(expected))
        {
            throw Damaged($"{what} at byte {offset} is not as a packet has it (a file too many, or repacked)");
        }
    }

    private byte[] Read(int bytes, string what)
    {
        var buffer = new byte[bytes];
        Fill(buffer, what);
        return buffer;
    }

    private void Fill(Span<byte> buffer, string what)
    {
        if (position + buffer.Length > maxBytes)
        {
            throw Damaged($"the archive is larger than the {maxBytes} bytes allowed");
        }

        var ready = Math.Min(pending.Count, buffer.Length);
        for (var i = 0; i < ready; i++)
        {
            buffer[i] = pending[i];
        }

        pending.RemoveRange(0, ready);
        var read = ready + zip.ReadAtLeast(buffer[ready..], buffer.Length - ready, throwOnEndOfStream: false);
        position += read;
        if (read < buffer.Length)
        {
            throw Damaged($"the archive ends at byte {position}, in {what}: the download may have been cut short");
        }
    }

    private void Note(string what) => Notes.Add(what);

    private static string Shown(string name) => new([.. name.Take(60).Select(c => c is >= ' ' and <= '~' ? c : '?')]);

    private static RecordFormatException Damaged(string what) => new(what);
}
