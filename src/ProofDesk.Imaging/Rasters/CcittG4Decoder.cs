namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// ITU-T T.6 back to rows. Strict: a code that does not exist, a run past the end of the row, missing or superfluous
/// rows stop with the row's number. It never reads or writes outside what it was given.
/// </summary>
public sealed class CcittG4Decoder
{
    private const int NoCode = -1;
    private const int PassMode = 7;
    private const int HorizontalMode = 8;

    /// <summary>For each string of bits: which entry starts with it (or <see cref="NoCode"/>) and the code's length.</summary>
    private static readonly (short Entry, byte Length)[] s_modes = Table(
        [.. CcittCodes.Vertical, CcittCodes.Pass, CcittCodes.Horizontal],
        CcittCodes.LongestModeCode
    );

    private static readonly (short Entry, byte Length)[] s_white = Table(CcittCodes.White, CcittCodes.LongestRunCode);
    private static readonly (short Entry, byte Length)[] s_black = Table(CcittCodes.Black, CcittCodes.LongestRunCode);

    private readonly ReadOnlyMemory<byte> _bytes;
    private readonly int _width;
    private int[] _changes;
    private int[] _above;
    private long _bit;
    private int _row;

    public CcittG4Decoder(ReadOnlyMemory<byte> bytes, int width)
    {
        if (width < 1)
            throw new ArgumentException($"a row has at least 1 px; {width} given");
        (_bytes, _width) = (bytes, width);
        _changes = new int[BitChanges.Capacity(width)];
        _above = new int[BitChanges.Capacity(width)];
        _above.AsSpan(0, BitChanges.Sentinels).Fill(width);
    }

    /// <summary>Decodes the next row into whole words of <see cref="BitPlane"/>'s layout.</summary>
    public void Read(Span<ulong> row)
    {
        var count = Decode();
        row.Clear();
        for (var i = 0; i < count; i += 2)
            BitRows.FillRun(row, _changes[i], _changes[i + 1]);
        (_changes, _above) = (_above, _changes);
        _row++;
    }

    /// <summary>Fills a band with the next rows.</summary>
    public void Read(BitPlane band)
    {
        if (band.Width != _width)
            throw new ArgumentException($"the band is {band.Width} px wide, the rows {_width} px");
        for (var y = 0; y < band.Height; y++)
            Read(band.Row(y));
    }

    /// <summary>Asks for the end mark where the rows must end.</summary>
    public void ReadEnd()
    {
        if (Peek(24) != CcittCodes.EndOfBlock.Bits)
            throw Broken("the end mark is missing");
    }

    /// <summary>Changes of the next row; returns how many, before the closing entries.</summary>
    private int Decode()
    {
        int a0 = -1,
            a = 0,
            b = 0;
        do
        {
            while (_above[b] <= a0)
                b += 2;
            var mode = Next(s_modes, CcittCodes.LongestModeCode, "mode");
            if (mode == PassMode)
            {
                a0 = _above[b + 1];
                if (a0 >= _width)
                    throw Broken("a pass runs past the end of the row");
            }
            else if (mode == HorizontalMode)
            {
                var a1 = Add(Math.Max(0, a0), Run((a & 1) == 0), a++);
                a0 = Add(a1, Run((a & 1) == 0), a++);
            }
            else
            {
                var a1 = _above[b] + mode - 3;
                if (a1 <= a0)
                    throw Broken("a change moves left of the one before");
                a0 = Add(0, a1, a++);
                b = b > 0 ? b - 1 : 1;
            }
        } while (a0 < _width);
        // Changes at the width are none.
        while (a > 0 && _changes[a - 1] >= _width)
            a--;
        _changes.AsSpan(a, BitChanges.Sentinels).Fill(_width);
        return a;
    }

    private int Add(int from, int run, int at)
    {
        if (run > _width - from)
            throw Broken($"a run of {run} px does not fit into the {_width - from} px left");
        if (at >= _width + 1)
            throw Broken("more changes than pixels");
        return _changes[at] = from + run;
    }

    private int Run(bool white)
    {
        var length = 0;
        while (true)
        {
            var entry = Next(white ? s_white : s_black, CcittCodes.LongestRunCode, white ? "white run" : "black run");
            length += CcittCodes.Run(entry);
            if (length > _width)
                throw Broken($"a run of {length} px does not fit into the row");
            if (entry < 64)
                return length;
        }
    }

    private int Next((short Entry, byte Length)[] table, int longest, string what)
    {
        var (entry, length) = table[Peek(longest)];
        if (entry == NoCode)
            throw Broken($"no {what} starts with these bits");
        _bit += length;
        if (_bit > _bytes.Length * 8L)
            throw Broken("the data end within a row");
        return entry;
    }

    /// <summary>The next bits, zeros behind the end.</summary>
    private int Peek(int count)
    {
        var span = _bytes.Span;
        var at = (int)(_bit >> 3);
        ulong bits = 0;
        for (var i = 0; i < 5; i++)
            bits = bits << 8 | (at + i < span.Length ? span[at + i] : 0u);
        return (int)(bits >> (40 - (int)(_bit & 7) - count) & ((1UL << count) - 1));
    }

    private InvalidDataException Broken(string what) =>
        new($"Group 4 data: {what} (row {_row}, bit {_bit}); the file is damaged, export it again");

    private static (short Entry, byte Length)[] Table(CcittCodes.Code[] codes, int longest)
    {
        var table = new (short Entry, byte Length)[1 << longest];
        Array.Fill(table, ((short)NoCode, (byte)0));
        for (var i = 0; i < codes.Length; i++)
        {
            var free = longest - codes[i].Length;
            Array.Fill(table, ((short)i, (byte)codes[i].Length), codes[i].Bits << free, 1 << free);
        }
        return table;
    }
}
