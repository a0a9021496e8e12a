using CsCheck;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class DistanceStampTests
{
    [Fact]
    public void A_stamp_leaves_the_smaller_distance_in_every_pixel_of_its_square()
    {
        var gen =
            from width in Gen.Int[1, 60]
            from cx in Gen.Float[-3, 62]
            from cy in Gen.Float[-3, 23]
            from limit in Gen.Float[1, 20]
            from pixels in Gen.Byte.Array[width * 20]
            select (new BytePlane(width, 20, pixels), cx, cy, limit);

        gen.Sample(
            (plane, cx, cy, limit) =>
            {
                var before = (byte[])plane.Pixels.Clone();

                DistanceStamp.Mark(plane, cx, cy, limit, 2, 17);

                for (var y = 0; y < 20; y++)
                for (var x = 0; x < plane.Width; x++)
                {
                    var d = MathF.Sqrt((x - cx) * (x - cx) + (y - cy) * (y - cy)) * (254 / limit) + 0.5f;
                    var inside = y is >= 2 and <= 17 && x >= cx - limit && x <= cx + limit;
                    inside &= y >= cy - limit && y <= cy + limit;
                    var old = before[y * plane.Width + x];
                    Assert.Equal(inside && d < old ? (byte)d : old, plane[x, y]);
                }
            },
            iter: 300
        );
    }
}
