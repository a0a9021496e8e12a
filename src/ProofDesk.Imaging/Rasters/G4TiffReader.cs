using System.Buffers.Binary;
using System.Text;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Reads the films that <see cref="G4Tiff"/> wrote, for reorders and checks: single-page, little-endian, 1 bit, Group 4,
/// WhiteIsZero. Everything else is refused by name. Rows are decoded strip by strip on demand.
/// </summary>
public sealed class G4TiffReader
{
    private const int MostPixelsASide = 1 << 17;

    private readonly ReadOnlyMemory<byte> _file;
    private readonly (uint Offset, uint Count)[] _strips;
    private readonly int _rowsPerStrip;

    /// <param name="file">The whole file.</param>
    public G4TiffReader(ReadOnlyMemory<byte> file)
    {
        _file = file;
        if (file.Length < 8 || !file.Span[..4].SequenceEqual("II*\0"u8))
            throw Refused("it does not begin like a little-endian TIFF");
        var entries = Entries();
        Width = Side(entries, 256, "width");
        Height = Side(entries, 257, "height");
        Require(entries, 258, 1, "bits a pixel");
        Require(entries, 259, 4, "compression (4 = Group 4)");
        Require(entries, 262, 0, "photometric interpretation (0 = white is zero)");
        _rowsPerStrip = (int)Math.Min((uint)Height, Math.Max(1, One(entries, 278, "rows per strip")));
        var offsets = Numbers(entries, 273, "strip offsets");
        var counts = Numbers(entries, 279, "strip lengths");
        var strips = (Height + _rowsPerStrip - 1) / _rowsPerStrip;
        if (offsets.Length != strips || counts.Length != strips)
            throw Refused($"{strips} strips expected, {offsets.Length} offsets and {counts.Length} lengths found");
        _strips = [.. offsets.Zip(counts)];
        foreach (var (offset, count) in _strips)
            if ((ulong)offset + count > (ulong)file.Length)
                throw Refused($"a strip ends at byte {(ulong)offset + count}, the file at {file.Length}");
        (XDpi, YDpi) = (Fraction(entries, 282), Fraction(entries, 283));
        Description = Text(entries, 270);
    }

    public int Width { get; }
    public int Height { get; }
    public double XDpi { get; }
    public double YDpi { get; }
    public string Description { get; }

    /// <summary>All rows. A film of 12 x 16 inch at 1440 dpi takes 50 MB.</summary>
    public BitPlane Read()
    {
        var plane = new BitPlane(Width, Height);
        RowLoop.RunBands(
            Height,
            _rowsPerStrip,
            (top, rows) =>
            {
                var (offset, count) = _strips[top / _rowsPerStrip];
                var decoder = new CcittG4Decoder(_file.Slice((int)offset, (int)count), Width);
                for (var y = top; y < top + rows; y++)
                    decoder.Read(plane.Row(y));
                decoder.ReadEnd();
            }
        );
        return plane;
    }

    private Dictionary<int, (ushort Type, uint Count, int At)> Entries()
    {
        var span = _file.Span;
        var at = BinaryPrimitives.ReadUInt32LittleEndian(span[4..]);
        if (at > span.Length - 2L)
            throw Refused($"its directory is at byte {at}, the file has {span.Length}");
        var count = BinaryPrimitives.ReadUInt16LittleEndian(span[(int)at..]);
        if (at + 2L + 12L * count > span.Length)
            throw Refused($"its directory of {count} entries does not fit into the file");
        var entries = new Dictionary<int, (ushort, uint, int)>();
        for (var i = 0; i < count; i++)
        {
            var entry = span.Slice((int)at + 2 + 12 * i, 12);
            var type = BinaryPrimitives.ReadUInt16LittleEndian(entry[2..]);
            var values = BinaryPrimitives.ReadUInt32LittleEndian(entry[4..]);
            var size =
                type switch
                {
                    2 => 1L,
                    3 => 2L,
                    4 => 4L,
                    5 => 8L,
                    _ => 0,
                } * values;
            var valueAt = (long)at + 2 + 12 * i + 8;
            if (size > 4)
                valueAt = BinaryPrimitives.ReadUInt32LittleEndian(entry[8..]);
            if (valueAt + size > span.Length)
                throw Refused($"the values of a directory entry end at byte {valueAt + size}");
            entries[BinaryPrimitives.ReadUInt16LittleEndian(entry)] = (type, values, (int)valueAt);
        }
        return entries;
    }

    private uint[] Numbers(Dictionary<int, (ushort Type, uint Count, int At)> entries, int tag, string what)
    {
        if (!entries.TryGetValue(tag, out var entry) || entry.Type is not (3 or 4))
            throw Refused($"{what} are missing");
        var numbers = new uint[entry.Count];
        for (var i = 0; i < numbers.Length; i++)
            numbers[i] =
                entry.Type == 3
                    ? BinaryPrimitives.ReadUInt16LittleEndian(_file.Span[(entry.At + 2 * i)..])
                    : BinaryPrimitives.ReadUInt32LittleEndian(_file.Span[(entry.At + 4 * i)..]);
        return numbers;
    }

    private uint One(Dictionary<int, (ushort Type, uint Count, int At)> entries, int tag, string what)
    {
        var numbers = Numbers(entries, tag, what);
        return numbers.Length == 1 ? numbers[0] : throw Refused($"{what}: one number expected, {numbers.Length} found");
    }

    private int Side(Dictionary<int, (ushort Type, uint Count, int At)> entries, int tag, string what)
    {
        var pixels = One(entries, tag, what);
        return pixels is > 0 and <= MostPixelsASide
            ? (int)pixels
            : throw Refused($"its {what} is {pixels} px, 1 to {MostPixelsASide} can be read");
    }

    private void Require(Dictionary<int, (ushort Type, uint Count, int At)> entries, int tag, uint wanted, string what)
    {
        var found = One(entries, tag, what);
        if (found != wanted)
            throw Refused($"{what} is {found}, {wanted} expected");
    }

    private double Fraction(Dictionary<int, (ushort Type, uint Count, int At)> entries, int tag)
    {
        if (!entries.TryGetValue(tag, out var entry) || entry.Type != 5 || entry.Count != 1)
            throw Refused("its resolution is missing");
        var numerator = BinaryPrimitives.ReadUInt32LittleEndian(_file.Span[entry.At..]);
        var denominator = BinaryPrimitives.ReadUInt32LittleEndian(_file.Span[(entry.At + 4)..]);
        return denominator > 0 ? numerator / (double)denominator : throw Refused("its resolution is divided by 0");
    }

    private string Text(Dictionary<int, (ushort Type, uint Count, int At)> entries, int tag) =>
        entries.TryGetValue(tag, out var entry) && entry.Type == 2
            ? Encoding.ASCII.GetString(_file.Span.Slice(entry.At, (int)entry.Count)).TrimEnd('\0')
            : "";

    private static InvalidDataException Refused(string why) =>
        new($"not a film file of ours: {why}; export the film again");
}
