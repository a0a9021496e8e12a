using System.Buffers.Binary;
using System.Text;

namespace ProofDesk.Imaging.Rasters;

/// <summary>What a film file says about itself. Only ASCII is kept in TIFF texts; other characters become '?'.</summary>
public sealed record G4TiffTags(double XDpi, double YDpi, string Description, string Software);

/// <summary>
/// Writes a 1-bit plane as baseline TIFF 6.0 with CCITT Group 4 strips (section 11), 1 = ink = black (WhiteIsZero). Strips
/// are made and coded on all cores, a few at a time, and written in order: memory does not grow with the height.
/// No date, so the same plane gives the same bytes.
/// </summary>
public static class G4Tiff
{
    /// <summary>Rows of a strip: each starts anew, so more cost little; fewer keep more cores busy to the end.</summary>
    public const int RowsPerStrip = 256;

    /// <summary>Rows made before they are coded: a band that stays in the cache.</summary>
    private const int RowsPerBand = 16;

    private const int StripsAhead = 6;

    /// <param name="stream">Must be able to seek: the directory stands behind the strips.</param>
    /// <param name="readRows">
    /// Fills a band with the rows from a given one on, e.g. a film's ReadRows; called from several threads.
    /// </param>
    /// <param name="progress">Share of the rows written, 0..1.</param>
    public static void Write(
        Stream stream,
        int width,
        int height,
        G4TiffTags tags,
        Action<int, BitPlane> readRows,
        IProgress<double>? progress = null,
        CancellationToken cancellation = default
    )
    {
        if (!stream.CanSeek)
            throw new ArgumentException("a film file needs a stream that can seek");
        var start = stream.Position;
        Span<byte> header = stackalloc byte[8];
        "II*\0"u8.CopyTo(header);
        stream.Write(header);

        var strips = (height + RowsPerStrip - 1) / RowsPerStrip;
        var (offsets, counts) = (new uint[strips], new uint[strips]);
        var waiting = new Queue<Task<StripCoder>>();
        var idle = new Stack<StripCoder>();
        try
        {
            for (int made = 0, written = 0; written < strips; written++)
            {
                for (; made < strips && waiting.Count < StripsAhead; made++)
                {
                    var coder = idle.Count > 0 ? idle.Pop() : new StripCoder(width, RowsPerBand);
                    var top = made * RowsPerStrip;
                    var rows = Math.Min(RowsPerStrip, height - top);
                    waiting.Enqueue(Task.Run(() => coder.Code(top, rows, readRows, cancellation), cancellation));
                }
                var done = waiting.Dequeue().GetAwaiter().GetResult();
                offsets[written] = checked((uint)(stream.Position - start));
                counts[written] = (uint)done.Bytes.Length;
                stream.Write(done.Bytes.Span);
                idle.Push(done);
                progress?.Report(Math.Min(1, (written + 1.0) * RowsPerStrip / height));
            }
        }
        finally
        {
            // After a failure nobody may still be reading rows.
            if (waiting.Count > 0)
                Task.WhenAll(waiting).ContinueWith(static _ => { }, TaskScheduler.Default).Wait(CancellationToken.None);
        }
        WriteDirectory(stream, start, width, height, tags, offsets, counts);
    }

    private sealed class StripCoder(int width, int bandRows)
    {
        private readonly CcittG4Encoder _encoder = new(width);
        private readonly BitPlane _band = new(width, bandRows);

        internal ReadOnlyMemory<byte> Bytes { get; private set; }

        internal StripCoder Code(int top, int rows, Action<int, BitPlane> readRows, CancellationToken cancellation)
        {
            _encoder.Clear();
            for (var y = 0; y < rows; y += bandRows)
            {
                cancellation.ThrowIfCancellationRequested();
                readRows(top + y, _band);
                for (var i = 0; i < Math.Min(bandRows, rows - y); i++)
                    _encoder.Append(_band.Row(i));
            }
            Bytes = _encoder.Finish();
            return this;
        }
    }

    private static void WriteDirectory(
        Stream stream,
        long start,
        int width,
        int height,
        G4TiffTags tags,
        uint[] offsets,
        uint[] counts
    )
    {
        if (((stream.Position - start) & 1) != 0)
            stream.WriteByte(0);
        var at = checked((uint)(stream.Position - start));
        var directory = new TiffDirectory();
        directory.Add(256, [(uint)width]);
        directory.Add(257, [(uint)height]);
        directory.Add(258, (ushort)1);
        directory.Add(259, (ushort)4);
        directory.Add(262, (ushort)0);
        directory.Add(270, tags.Description);
        directory.Add(273, offsets);
        directory.Add(277, (ushort)1);
        directory.Add(278, [RowsPerStrip]);
        directory.Add(279, counts);
        directory.Add(282, tags.XDpi);
        directory.Add(283, tags.YDpi);
        directory.Add(293, [0]);
        directory.Add(296, (ushort)2);
        directory.Add(305, tags.Software);
        stream.Write(directory.Bytes(at));
        var end = stream.Position;
        Span<byte> pointer = stackalloc byte[4];
        BinaryPrimitives.WriteUInt32LittleEndian(pointer, at);
        stream.Position = start + 4;
        stream.Write(pointer);
        stream.Position = end;
    }

    /// <summary>One image file directory, little-endian; entries in ascending order of tag (TIFF 6.0, section 2).</summary>
    private sealed class TiffDirectory
    {
        private readonly List<(ushort Tag, ushort Type, uint Count, byte[] Value)> _entries = [];

        internal void Add(ushort tag, ushort value) => _entries.Add((tag, 3, 1, BitConverter.GetBytes(value)));

        internal void Add(ushort tag, uint[] values) =>
            _entries.Add((tag, 4, (uint)values.Length, [.. values.SelectMany(BitConverter.GetBytes)]));

        internal void Add(ushort tag, string text)
        {
            var bytes = Encoding.ASCII.GetBytes(text + "\0");
            _entries.Add((tag, 2, (uint)bytes.Length, bytes));
        }

        /// <summary>A resolution as a fraction, to 1/1000 dpi.</summary>
        internal void Add(ushort tag, double dpi) =>
            _entries.Add(
                (tag, 5, 1, [.. BitConverter.GetBytes((uint)Math.Round(dpi * 1000)), .. BitConverter.GetBytes(1000u)])
            );

        internal byte[] Bytes(uint at)
        {
            var values = new MemoryStream();
            var bytes = new MemoryStream();
            var valuesAt = at + 2 + 12 * (uint)_entries.Count + 4;
            bytes.Write(BitConverter.GetBytes((ushort)_entries.Count));
            foreach (var (tag, type, count, value) in _entries)
            {
                bytes.Write(BitConverter.GetBytes(tag));
                bytes.Write(BitConverter.GetBytes(type));
                bytes.Write(BitConverter.GetBytes(count));
                if (value.Length <= 4)
                {
                    bytes.Write(value);
                    bytes.Write(new byte[4 - value.Length]);
                    continue;
                }
                bytes.Write(BitConverter.GetBytes(checked(valuesAt + (uint)values.Length)));
                values.Write(value);
                if ((values.Length & 1) != 0)
                    values.WriteByte(0);
            }
            bytes.Write(new byte[4]);
            values.WriteTo(bytes);
            return bytes.ToArray();
        }
    }
}
