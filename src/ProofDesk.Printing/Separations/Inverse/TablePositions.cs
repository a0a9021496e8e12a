using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>Where 16-bit linear light stands along an axis of a <see cref="SeparationTable"/>: its nodes are even steps of sRGB codes.</summary>
internal sealed class TablePositions
{
    private const int Last = SeparationTable.Cells * TetrahedralTable.CellSteps;

    private readonly ushort[] _positions = new ushort[65536];

    public TablePositions()
    {
        for (var i = 0; i < _positions.Length; i++)
            _positions[i] = (ushort)Math.Round(Last * Srgb.Encode(i / 65535.0));
    }

    public ushort this[ushort linear] => _positions[linear];

    public ushort Of(double linear) => _positions[(int)Math.Round(65535 * Math.Clamp(linear, 0, 1))];

    /// <summary>Three for each pixel of a row of art.</summary>
    public void Row(ReadOnlySpan<ushort> rgba, Span<ushort> positions)
    {
        unchecked
        {
            for (int from = 0, to = 0; from + 3 < rgba.Length; from += 4, to += 3)
            {
                positions[to] = _positions[rgba[from]];
                positions[to + 1] = _positions[rgba[from + 1]];
                positions[to + 2] = _positions[rgba[from + 2]];
            }
        }
    }
}
