namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// What each n-bit code (bit k = plate k printed here) adds to a picture cell, in fixed point, for each noise class.
/// Filled when a code is first met: of the 2^n codes a print uses a few dozen. Threads may meet a code at the same time;
/// slots may then be dealt in another order, values do not change.
/// </summary>
public abstract class CodeColours
{
    /// <summary>Whole numbers in a row of the table: what one film pixel adds.</summary>
    public const int Lanes = 8;

    private readonly Lock _filling = new();
    private readonly int[] _slots;
    private readonly int[] _codes;
    private readonly int[]?[] _cellSums;
    private int _used;

    /// <param name="plates">Bits of a code.</param>
    /// <param name="classes">Noise classes.</param>
    protected CodeColours(int plates, int classes)
    {
        if (plates is < 0 or > 16)
            throw new ArgumentException($"a print has at most 16 screens on one ground; {plates} given");
        Classes = classes;
        _slots = new int[1 << plates];
        _slots.AsSpan().Fill(-1);
        var most = Math.Min(_slots.Length, MostCodes);
        Table = new int[most * classes * Lanes];
        _codes = new int[most];
        _cellSums = new int[most][];
    }

    /// <summary>Different overprints one print may have.</summary>
    public const int MostCodes = 8192;

    public int Classes { get; }

    /// <summary>Row of code c and class k starts at (Slot(c) x Classes + k) x Lanes.</summary>
    internal int[] Table { get; }

    /// <summary>Place of a code in the table; fills it when new.</summary>
    internal int Slot(int code)
    {
        var slot = Volatile.Read(ref _slots[code]);
        return slot >= 0 ? slot : Add(code);
    }

    /// <summary>
    /// Writes Classes rows of <see cref="Lanes"/> numbers. Lanes 4 to 7 must be the same in every class: a cell that one code
    /// fills takes them from the first.
    /// </summary>
    protected abstract void Fill(int code, Span<int> rows);

    /// <summary>
    /// Sums over every cell of the tile of classes, for cells that one code fills: lanes 0 to 3 of each cell, row by row.
    /// </summary>
    internal int[] CellSums(int slot, ClassTile tile)
    {
        if (Volatile.Read(ref _cellSums[slot]) is { } sums)
            return sums;
        lock (_filling)
            return _cellSums[slot] ??= tile.SumCells(Table.AsSpan(slot * Classes * Lanes, Classes * Lanes));
    }

    private int Add(int code)
    {
        lock (_filling)
        {
            if (_slots[code] >= 0)
                return _slots[code];
            if (_used == _codes.Length)
                throw new InvalidOperationException(
                    $"the films overprint in more than {MostCodes} different ways, which no art does; are they films of one print?"
                );
            var slot = _used++;
            _codes[slot] = code;
            Fill(code, Table.AsSpan(slot * Classes * Lanes, Classes * Lanes));
            Volatile.Write(ref _slots[code], slot);
            return slot;
        }
    }
}
