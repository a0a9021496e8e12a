using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

/// <summary>The plain sum, pixel by pixel, is the judge of the fast one.</summary>
public class CodeCellsTests
{
    [Theory]
    [InlineData(1, 6, 6)]
    [InlineData(3, 6, 6)]
    [InlineData(6, 5, 6)]
    [InlineData(8, 10, 10)]
    [InlineData(11, 3, 6)]
    [InlineData(2, 1, 1)]
    public void Cells_add_up_what_their_pixels_show(int plates, int cellWidth, int cellHeight)
    {
        const int cells = 60;
        var planes = Enumerable.Range(0, plates).Select(k => Blobs(cells * cellWidth, 2 * cellHeight, k)).ToArray();
        var tile = Tile(70, 3, cellWidth, cellHeight);
        foreach (var readySums in new[] { true, false })
        {
            var colours = new Numbered(plates);
            var fast = new CodeCells(planes, colours, tile, readySums);
            var sums = new int[cells * CodeColours.Lanes];
            for (var row = 0; row < 2; row++)
            {
                fast.Open(row * cellHeight);
                // In two stretches of the tile, as at a seam.
                fast.Sum(row * cellHeight, 0, 23, 40, 1, sums);
                fast.Sum(row * cellHeight, 23, cells - 23, 5, 2, sums.AsSpan(23 * CodeColours.Lanes));

                for (var c = 0; c < cells; c++)
                {
                    var (tileX, tileY) = c < 23 ? (40 + c, 1) : (5 + c - 23, 2);
                    var plain = Plain(planes, tile, row * cellHeight, c, tileX, tileY);
                    Assert.Equal(plain, sums.AsSpan(c * CodeColours.Lanes, CodeColours.Lanes).ToArray());
                }
            }
        }
    }

    [Fact]
    public void More_than_sixteen_screens_are_refused()
    {
        var error = Assert.Throws<ArgumentException>(() => new Numbered(17));

        Assert.Equal("a print has at most 16 screens on one ground; 17 given", error.Message);
    }

    private static int[] Plain(BitPlane[] planes, ClassTile tile, int top, int cell, int tileX, int tileY)
    {
        var sum = new int[CodeColours.Lanes];
        for (var y = 0; y < tile.CellHeight; y++)
        for (var x = 0; x < tile.CellWidth; x++)
        {
            var code = 0;
            for (var k = 0; k < planes.Length; k++)
                if (planes[k][cell * tile.CellWidth + x, top + y])
                    code |= 1 << k;
            var at = (tileY * tile.CellHeight + y) * tile.Stride + tileX * tile.CellWidth + x;
            for (var lane = 0; lane < sum.Length; lane++)
                sum[lane] += Numbered.Value(code, tile.Classes[at], lane);
        }
        return sum;
    }

    /// <summary>Patches of ink, so that some cells are filled by one code and some are not.</summary>
    private static BitPlane Blobs(int width, int height, int k)
    {
        var plane = new BitPlane(width, height);
        for (var y = 0; y < height; y++)
        for (var x = 0; x < width; x++)
            if (
                SeededNoise.Uniform(7, (x + 11 * k) / 37, k) < 0.5
                ^ (x > width / 2 && SeededNoise.Uniform(8, x, y) < 0.1)
            )
                plane[x, y] = true;
        return plane;
    }

    private static ClassTile Tile(int across, int down, int cellWidth, int cellHeight)
    {
        var classes = new byte[across * cellWidth * down * cellHeight];
        for (var i = 0; i < classes.Length; i++)
            classes[i] = (byte)(SeededNoise.Hash(9, i) % Numbered.ClassCount);
        return new(across, down, cellWidth, cellHeight, classes);
    }

    /// <summary>Every code and class its own numbers; lanes 4 to 7 do not depend on the class, as the table promises.</summary>
    private sealed class Numbered(int plates) : CodeColours(plates, ClassCount)
    {
        public const int ClassCount = 24;

        public static int Value(int code, int noiseClass, int lane) =>
            lane < 4 ? 1000 * code + 31 * noiseClass + lane : 17 * code + lane;

        protected override void Fill(int code, Span<int> rows)
        {
            for (var c = 0; c < ClassCount; c++)
            for (var lane = 0; lane < Lanes; lane++)
                rows[c * Lanes + lane] = Value(code, c, lane);
        }
    }
}
