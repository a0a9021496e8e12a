using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Inverse;

/// <summary>At 12 pixels a mm: a choke of 2 px, half a strip of 2 px, half a gap of 3 px.</summary>
public sealed class TonalBaseTests
{
    private static BytePlane Plane(Func<int, int, int> tone)
    {
        var plane = new BytePlane(120, 60);
        for (var y = 0; y < plane.Height; y++)
        for (var x = 0; x < plane.Width; x++)
            plane[x, y] = (byte)tone(x, y);
        return plane;
    }

    private static readonly BytePlane Covered = Plane((_, _) => 255);

    private static BytePlane Choked(BytePlane white, BytePlane colour) =>
        TonalBase.Choked(white, [colour], radius: 2, strip: 2, gap: 3);

    [Fact]
    public void A_solid_edge_under_colour_is_drawn_in_by_the_choke()
    {
        var choked = Choked(Plane((x, y) => x is >= 20 and < 80 && y is >= 10 and < 50 ? 230 : 0), Covered);

        Assert.Equal([0, 0, 0, 230], Enumerable.Range(19, 4).Select(x => (int)choked[x, 30]));
        Assert.Equal([230, 0, 0, 0], Enumerable.Range(77, 4).Select(x => (int)choked[x, 30]));
    }

    [Fact]
    public void The_base_that_is_the_picture_s_white_stays()
    {
        var white = Plane((x, y) => x is >= 20 and < 80 && y is >= 10 and < 50 ? 230 : 0);

        Assert.Equal(white.Pixels, Choked(white, Plane((_, _) => 0)).Pixels);
    }

    // The least within the choke would darken all of it, as it once did: 6 dE00 in a photograph of fur.
    [Fact]
    public void Light_and_shade_of_the_picture_are_no_edge()
    {
        var white = Plane((x, y) => 120 + 40 * (x / 2 % 2) + (SeededNoise.Hash(3, x, y) >> 60 > 12 ? -100 : 0));
        var choked = Choked(white, Covered);

        for (var y = 8; y < 52; y++)
        for (var x = 8; x < 112; x++)
            Assert.Equal(white[x, y], choked[x, y]);
    }

    // Common practice: a strip is never shaved below what the mesh holds.
    [Theory]
    [InlineData(3, 3)]
    [InlineData(5, 5)]
    [InlineData(12, 8)]
    public void A_strip_keeps_what_the_mesh_holds(int width, int left)
    {
        var choked = Choked(Plane((x, _) => x >= 50 && x < 50 + width ? 200 : 0), Covered);

        Assert.Equal(left, Enumerable.Range(0, 120).Count(x => choked[x, 30] == 200));
    }

    [Fact]
    public void Specks_and_pinholes_below_half_a_millimetre_go_and_larger_ones_stay()
    {
        // A disc of half a mm has 28 px: a speck of 16 and a hole of 25 are smaller, 36 are not.
        var white = Plane(
            (x, y) =>
                In(x, y, 10, 10, 4) || In(x, y, 30, 10, 6) || x >= 60 && !In(x, y, 80, 20, 5) && !In(x, y, 100, 20, 6)
                    ? 180
                    : 5
        );
        TonalBase.Clean(white, 12);

        Assert.Equal(0, white[11, 11]);
        Assert.Equal(180, white[31, 11]);
        Assert.Equal(180, white[82, 22]);
        Assert.Equal(5, white[102, 22]);

        static bool In(int x, int y, int left, int top, int side) =>
            x >= left && y >= top && x < left + side && y < top + side;
    }
}
