using CsCheck;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

/// <summary>Whole vectors against one pixel and its neighbours at a time.</summary>
public sealed class SoftTonesTests
{
    private const int Rim = 2;

    private static readonly Gen<byte> Values = Gen.Frequency(
        (2, Gen.Int[0, 5].Select(i => (byte)new[] { 0, 1, 249, 250, 254, 255 }[i])),
        (1, Gen.Byte)
    );

    private static readonly Gen<(BytePlane Values, BytePlane Soft)> Planes =
        from width in Gen.Int[1, 100]
        from height in Gen.Int[1, 8]
        from values in Values.Array[width * height]
        from often in Gen.Int[0, 10]
        from soft in Gen.Int[0, 9].Select(i => (byte)(i < often ? 1 : 0)).Array[width * height]
        select (new BytePlane(width, height, values), new BytePlane(width, height, soft));

    [Fact]
    public void Soft_pixels_become_tone_and_their_neighbours_take_the_darkest_of_them() =>
        Planes.Sample(
            (values, soft) =>
            {
                var outline = new BytePlane(values.Width, values.Height);
                var tone = new BytePlane(values.Width, values.Height);
                var scratch = new byte[SoftTones.Scratch(values.Width, Rim)];

                for (var y = 0; y < values.Height; y++)
                    SoftTones.Row(values, soft, y, Rim, scratch, outline, tone);

                for (var y = 0; y < values.Height; y++)
                for (var x = 0; x < values.Width; x++)
                    Assert.Equal(Plain(values, soft, x, y), (outline[x, y], tone[x, y]));
            },
            iter: 200
        );

    [Fact]
    public void Soft_pixels_are_counted_when_they_are_neither_blank_nor_solid() =>
        Planes.Sample(
            (values, soft) =>
            {
                var plain = values.Pixels.Zip(soft.Pixels).Count(p => p.First is > 0 and < 255 && p.Second != 0);

                Assert.Equal(plain, SoftTones.Count(values.Pixels, soft.Pixels));
            },
            iter: 200
        );

    [Fact]
    public void Sums_stop_at_solid() =>
        Planes.Sample(
            (values, soft) =>
            {
                var sum = values.Pixels.Reverse().ToArray();
                var plain = sum.Zip(values.Pixels).Select(p => (byte)Math.Min(255, p.First + p.Second)).ToArray();

                SoftTones.Add(sum, values.Pixels);

                Assert.Equal(plain, sum);
            },
            iter: 200
        );

    private static (byte Outline, byte Tone) Plain(BytePlane values, BytePlane soft, int x, int y)
    {
        var value = values[x, y];
        if (IsTone(x, y))
            return (255, value);
        if (value >= 250)
            return (value, 255);
        byte darkest = 0;
        for (var ny = Math.Max(0, y - Rim); ny <= Math.Min(values.Height - 1, y + Rim); ny++)
        for (var nx = Math.Max(0, x - Rim); nx <= Math.Min(values.Width - 1, x + Rim); nx++)
            if (IsTone(nx, ny))
                darkest = Math.Max(darkest, values[nx, ny]);
        return (value, darkest == 0 ? (byte)255 : darkest);

        bool IsTone(int tx, int ty) => soft[tx, ty] != 0 && values[tx, ty] is > 0 and < 255;
    }
}
