using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// Which cells of a <see cref="SeparationTable"/> a picture reads: a photograph uses a tenth or so of them, and the others need no
/// solving.
/// </summary>
internal sealed class TableCells
{
    private const int Side = SeparationTable.Cells;

    private readonly bool[] _used;

    private TableCells(bool[] used) => _used = used;

    /// <summary>Every cell: for a table that is read at any colour.</summary>
    public static TableCells All { get; } = new([.. Enumerable.Repeat(true, Side * Side * Side)]);

    /// <param name="positions">Fills the positions of a row of pixels, three each; false where the row reads nothing.</param>
    public static TableCells Of(int width, int height, PositionsOfRow positions)
    {
        var used = new bool[Side * Side * Side];
        var gate = new Lock();
        RowLoop.RunBands(
            height,
            Math.Max(64, height / 16),
            (top, count) =>
            {
                var mine = new bool[used.Length];
                var row = new ushort[3 * width];
                for (var y = top; y < top + count; y++)
                    if (positions(y, row))
                        Mark(row, mine);
                lock (gate)
                {
                    for (var i = 0; i < mine.Length; i++)
                        used[i] |= mine[i];
                }
            }
        );
        return new(used);
    }

    public delegate bool PositionsOfRow(int y, Span<ushort> positions);

    /// <summary>
    /// Nodes of a level of the table, one for every so many, that are corners of a used cell of that level or, where asked, lie beside one.
    /// </summary>
    public bool[] Nodes(int stride, bool beside)
    {
        var cells = Side / stride;
        var nodes = new bool[(cells + 1) * (cells + 1) * (cells + 1)];
        var reach = beside ? 1 : 0;
        for (var r = 0; r < Side; r++)
        for (var g = 0; g < Side; g++)
        for (var b = 0; b < Side; b++)
            if (_used[(r * Side + g) * Side + b])
                Corners(nodes, cells, r / stride, g / stride, b / stride, reach);
        return nodes;
    }

    private static void Corners(bool[] nodes, int cells, int r, int g, int b, int reach)
    {
        for (var nr = Math.Max(0, r - reach); nr <= Math.Min(cells, r + 1 + reach); nr++)
        for (var ng = Math.Max(0, g - reach); ng <= Math.Min(cells, g + 1 + reach); ng++)
        for (var nb = Math.Max(0, b - reach); nb <= Math.Min(cells, b + 1 + reach); nb++)
            nodes[(nr * (cells + 1) + ng) * (cells + 1) + nb] = true;
    }

    private static void Mark(ReadOnlySpan<ushort> positions, bool[] used)
    {
        unchecked
        {
            for (var i = 0; i + 2 < positions.Length; i += 3)
                used[(Cell(positions[i]) * Side + Cell(positions[i + 1])) * Side + Cell(positions[i + 2])] = true;
        }
    }

    private static int Cell(ushort position) => Math.Min(position / TetrahedralTable.CellSteps, Side - 1);
}
