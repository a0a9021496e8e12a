using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class TetrahedralTableTests
{
    private const int Size = 5;

    private static TetrahedralTable Of(int outputs, Func<double, double, double, int, double> value)
    {
        var values = new List<float>();
        for (var r = 0; r < Size; r++)
        for (var g = 0; g < Size; g++)
        for (var b = 0; b < Size; b++)
        for (var i = 0; i < outputs; i++)
            values.Add((float)value(r / (Size - 1.0), g / (Size - 1.0), b / (Size - 1.0), i));
        return new(Size, outputs, [.. values]);
    }

    [Fact]
    public void The_vector_path_gives_what_the_plain_one_gives()
    {
        var table = Of(7, (r, g, b, i) => SeededNoise.Uniform(5, (long)(r * 4 + g * 40 + b * 400), i));
        var positions = Enumerable
            .Range(0, 3 * 500)
            .Select(i => (ushort)(SeededNoise.Hash(8, i) % (ulong)(table.Last + 1)))
            .ToArray();
        var outputs = new byte[500 * TetrahedralTable.Lanes];
        table.Row(positions, outputs);

        for (var x = 0; x < 500; x++)
        for (var i = 0; i < 7; i++)
            Assert.Equal(
                table.PlainAt(positions[3 * x], positions[3 * x + 1], positions[3 * x + 2], i),
                outputs[x * TetrahedralTable.Lanes + i]
            );
    }

    [Fact]
    public void A_plane_is_interpolated_exactly()
    {
        var table = Of(1, (r, g, b, _) => 0.2 * r + 0.3 * g + 0.5 * b);
        var outputs = new byte[TetrahedralTable.Lanes];
        for (var i = 0; i < 300; i++)
        {
            ushort[] at =
            [
                .. Enumerable.Range(0, 3).Select(c => (ushort)(SeededNoise.Hash(2, i, c) % (ulong)table.Last)),
            ];
            table.Row(at, outputs);
            var expected = 255 * (0.2 * at[0] + 0.3 * at[1] + 0.5 * at[2]) / table.Last;
            Assert.InRange(outputs[0] - expected, -0.52, 0.52);
        }
    }

    // The reason for tetrahedra: grey needs no corner off the diagonal.
    [Fact]
    public void Grey_depends_on_the_grey_nodes_alone()
    {
        var table = Of(1, (r, g, b, _) => r == g && g == b ? r : 1);
        var outputs = new byte[TetrahedralTable.Lanes];
        for (ushort at = 0; at <= table.Last; at += 7)
        {
            table.Row([at, at, at], outputs);
            Assert.InRange(outputs[0] - 255.0 * at / table.Last, -0.52, 0.52);
        }
    }
}
