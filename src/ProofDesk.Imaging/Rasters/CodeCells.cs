using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// Adds up what the film pixels of each picture cell show. Cells that one code fills (solids, bare cloth) are found 64
/// pixels at a time from the AND and OR of their rows and take the ready sum of their place in the tile; only cells with
/// an edge in them look at single pixels. One instance a thread.
/// </summary>
public sealed class CodeCells
{
    // Byte b spread over eight bytes: bit i becomes byte i (0 or 1).
    private static readonly ulong[] Spread = MakeSpread();

    private readonly BitPlane[] _planes;
    private readonly CodeColours _colours;
    private readonly ClassTile _tile;
    private readonly bool _readySums;
    private readonly int _stride;
    private readonly ulong[] _edges;
    private readonly ulong[] _changes;
    private readonly ulong[] _insideCells;
    private readonly byte[] _low;
    private readonly byte[] _high;

    /// <param name="planes">One plane a plate, bit k of the code first; same size, pixel 0 starts a cell.</param>
    /// <param name="readySums">False for small regions, where sums over the whole tile would not pay.</param>
    public CodeCells(BitPlane[] planes, CodeColours colours, ClassTile tile, bool readySums)
    {
        (_planes, _colours, _tile, _readySums) = (planes, colours, tile, readySums);
        if (tile.CellWidth > 32)
            throw new ArgumentException($"a cell is at most 32 film pixels wide; {tile.CellWidth} given");
        _stride = planes[0].Stride;
        _edges = new ulong[_stride + 1];
        _changes = new ulong[_stride + 1];
        _insideCells = new ulong[_stride];
        for (var x = 0; x < _stride * 64; x++)
            if (x % tile.CellWidth != 0)
                _insideCells[x >> 6] |= 1UL << (x & 63);
        _low = new byte[_stride * 64 * tile.CellHeight];
        _high = planes.Length > 8 ? new byte[_low.Length] : [];
    }

    /// <summary>Looks at the rows of one row of cells, from plane row <paramref name="y"/> on.</summary>
    public void Open(int y)
    {
        unchecked
        {
            _edges.AsSpan().Clear();
            _changes.AsSpan().Clear();
            foreach (var plane in _planes)
            {
                ulong before = 0;
                for (var i = 0; i < _stride; i++)
                {
                    var at = y * _stride + i;
                    var word = plane.Words[at];
                    var (all, any) = (word, word);
                    for (var r = 1; r < _tile.CellHeight; r++)
                    {
                        word = plane.Words[at += _stride];
                        all &= word;
                        any |= word;
                    }
                    _edges[i] |= all ^ any;
                    _changes[i] |= all ^ (all << 1 | before);
                    before = all >> 63;
                }
            }
            for (var i = 0; i < _stride; i++)
                _edges[i] |= _changes[i] & _insideCells[i];
            for (var i = 0; i < _stride; i++)
                if (!_readySums || (_edges[i] | _edges[i + 1] | (i > 0 ? _edges[i - 1] : 0)) != 0)
                    Expand(y, i);
        }
    }

    /// <summary>
    /// Cells <paramref name="first"/> to first + count - 1 of the opened row, on a stretch of the tile that begins at
    /// its cell (tileX, tileY) and does not pass its right edge.
    /// </summary>
    public void Sum(int y, int first, int count, int tileX, int tileY, Span<int> cells)
    {
        unchecked
        {
            var width = _tile.CellWidth;
            var inCell = (1UL << width) - 1;
            var slotOfRun = -1;
            int[] sums = [];
            var constant = Vector128<int>.Zero;
            ref var target = ref MemoryMarshal.GetReference(cells[..(count * CodeColours.Lanes)]);
            ref var table = ref MemoryMarshal.GetArrayDataReference(_colours.Table);
            for (var c = 0; c < count; c++)
            {
                var x = (first + c) * width;
                ref var cell = ref Unsafe(ref target, c * CodeColours.Lanes);
                if (!_readySums || (BitRows.Bits(_edges, x) & inCell) != 0)
                {
                    slotOfRun = -1;
                    AddPixels(x, tileX + c, tileY, ref table).StoreUnsafe(ref cell);
                    continue;
                }
                if (slotOfRun < 0 || (_changes[x >> 6] >> (x & 63) & 1) != 0)
                {
                    slotOfRun = _colours.Slot(Code(x, y));
                    sums = _colours.CellSums(slotOfRun, _tile);
                    var row = slotOfRun * _colours.Classes * CodeColours.Lanes + 4;
                    constant =
                        Vector128.LoadUnsafe(ref table, (nuint)row)
                        * Vector128.Create(_tile.CellWidth * _tile.CellHeight);
                }
                var at = (tileY * _tile.CellsAcross + tileX + c) * 4;
                Vector128.LoadUnsafe(ref MemoryMarshal.GetArrayDataReference(sums), (nuint)at).StoreUnsafe(ref cell);
                constant.StoreUnsafe(ref Unsafe(ref cell, 4));
            }
        }
    }

    private Vector256<int> AddPixels(int x, int tileX, int tileY, ref int table)
    {
        unchecked
        {
            var sum = Vector256<int>.Zero;
            for (var r = 0; r < _tile.CellHeight; r++)
            {
                var from = r * _stride * 64 + x;
                var low = _low.AsSpan(from, _tile.CellWidth);
                var high = _high.Length == 0 ? default : _high.AsSpan(from, _tile.CellWidth);
                var classes = _tile.Classes.AsSpan(
                    (tileY * _tile.CellHeight + r) * _tile.Stride + tileX * _tile.CellWidth,
                    low.Length
                );
                for (var i = 0; i < low.Length; i++)
                {
                    var code = high.IsEmpty ? low[i] : low[i] | high[i] << 8;
                    var row = (_colours.Slot(code) * _colours.Classes + classes[i]) * CodeColours.Lanes;
                    sum += Vector256.LoadUnsafe(ref table, (nuint)row);
                }
            }
            return sum;
        }
    }

    private int Code(int x, int y)
    {
        var code = 0;
        for (var k = 0; k < _planes.Length; k++)
            code |= (int)(_planes[k].Words[y * _stride + (x >> 6)] >> (x & 63) & 1) << k;
        return code;
    }

    /// <summary>Codes of 64 pixels in each row of the cells.</summary>
    private void Expand(int y, int word)
    {
        unchecked
        {
            for (var r = 0; r < _tile.CellHeight; r++)
            {
                var at = (y + r) * _stride + word;
                var from = (r * _stride + word) * 64;
                var low = MemoryMarshal.Cast<byte, ulong>(_low.AsSpan(from, 64));
                low.Clear();
                for (var k = 0; k < Math.Min(8, _planes.Length); k++)
                    Deposit(_planes[k].Words[at], k, low);
                if (_high.Length == 0)
                    continue;
                var high = MemoryMarshal.Cast<byte, ulong>(_high.AsSpan(from, 64));
                high.Clear();
                for (var k = 8; k < _planes.Length; k++)
                    Deposit(_planes[k].Words[at], k - 8, high);
            }
        }
    }

    private static void Deposit(ulong word, int bit, Span<ulong> codes)
    {
        for (var i = 0; word != 0; i++, word >>= 8)
            codes[i] |= Spread[(int)(word & 0xFF)] << bit;
    }

    private static ref int Unsafe(ref int from, int offset) =>
        ref System.Runtime.CompilerServices.Unsafe.Add(ref from, offset);

    private static ulong[] MakeSpread()
    {
        var spread = new ulong[256];
        for (var b = 0; b < 256; b++)
        for (var i = 0; i < 8; i++)
            if ((b >> i & 1) != 0)
                spread[b] |= 1UL << (8 * i);
        return spread;
    }
}
