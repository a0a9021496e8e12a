using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class AlikeNeighboursTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(40)]
    [InlineData(255)]
    public void The_vector_path_marks_what_the_plain_one_does(byte within)
    {
        uint[] Row(uint seed, int length) =>
            [
                .. Enumerable
                    .Range(0, length)
                    .Select(x => (uint)(SeededNoise.Hash(seed, x, 0) & 0x3F3F3F3F) | (x % 7 == 0 ? 0xFF000000 : 0)),
            ];
        var (above, own, below) = (Row(1, 45), Row(2, 47), Row(3, 45));
        var marks = new byte[45];

        AlikeNeighbours.Mark(above, own, below, within, marks);

        for (var x = 0; x < marks.Length; x++)
            Assert.Equal(AlikeNeighbours.PlainAt(above, own, below, within, x), marks[x]);
    }

    [Fact]
    public void A_pixel_like_those_beside_it_and_unlike_one_below_is_marked_across()
    {
        var marks = new byte[1];

        AlikeNeighbours.Mark([0x10203040], [0x10203048, 0x10203040, 0x10203038], [0x10203049], 8, marks);

        Assert.Equal([AlikeNeighbours.Across], marks);
    }
}
