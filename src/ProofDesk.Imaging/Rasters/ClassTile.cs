namespace ProofDesk.Imaging.Rasters;

/// <summary>
/// A tile of noise classes, one byte a film pixel, that covers a whole number of picture cells.
/// </summary>
public sealed class ClassTile
{
    public ClassTile(int cellsAcross, int cellsDown, int cellWidth, int cellHeight, byte[] classes)
    {
        if (classes.Length != cellsAcross * cellWidth * cellsDown * cellHeight)
            throw new ArgumentException(
                $"{cellsAcross} x {cellsDown} cells of {cellWidth} x {cellHeight} px need {cellsAcross * cellWidth * cellsDown * cellHeight} classes; {classes.Length} given"
            );
        (CellsAcross, CellsDown, CellWidth, CellHeight, Classes) = (
            cellsAcross,
            cellsDown,
            cellWidth,
            cellHeight,
            classes
        );
    }

    public int CellsAcross { get; }
    public int CellsDown { get; }

    /// <summary>Film pixels across a cell.</summary>
    public int CellWidth { get; }

    /// <summary>Film pixels down a cell.</summary>
    public int CellHeight { get; }

    /// <summary>Film pixels in a row of the tile.</summary>
    public int Stride => CellsAcross * CellWidth;

    public byte[] Classes { get; }

    /// <summary>Lanes 0 to 3 summed over each cell.</summary>
    internal int[] SumCells(ReadOnlySpan<int> rows)
    {
        var sums = new int[CellsAcross * CellsDown * 4];
        unchecked
        {
            for (var y = 0; y < CellsDown * CellHeight; y++)
            {
                var classes = Classes.AsSpan(y * Stride, Stride);
                var target = sums.AsSpan(y / CellHeight * CellsAcross * 4, CellsAcross * 4);
                var x = 0;
                for (var c = 0; c < target.Length; c += 4)
                {
                    int a = 0,
                        b = 0,
                        d = 0,
                        e = 0;
                    for (var i = 0; i < CellWidth; i++, x++)
                    {
                        var row = rows.Slice(classes[x] * CodeColours.Lanes, 4);
                        a += row[0];
                        b += row[1];
                        d += row[2];
                        e += row[3];
                    }
                    target[c] += a;
                    target[c + 1] += b;
                    target[c + 2] += d;
                    target[c + 3] += e;
                }
            }
        }
        return sums;
    }
}
