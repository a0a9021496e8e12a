using CsCheck;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class PolygonFillTests
{
    [Fact]
    public void A_rectangle_covers_each_pixel_by_its_share()
    {
        var plane = new BytePlane(5, 4);

        PolygonFill.Fill(
            plane,
            [
                [(1.5, 1), (3.25, 1), (3.25, 2.5), (1.5, 2.5)],
            ]
        );

        Assert.Equal([0, 128, 255, 64, 0], plane.Row(1).ToArray());
        Assert.Equal([0, 64, 128, 32, 0], plane.Row(2).ToArray());
        Assert.Equal([0, 0, 0, 0, 0], plane.Row(3).ToArray());
    }

    [Fact]
    public void A_triangle_has_its_area_wherever_it_lies()
    {
        var point = Gen.Double[0, 60].Select(Gen.Double[0, 60]);

        point
            .Select(point, point)
            .Sample(
                (a, b, c) =>
                {
                    var plane = new BytePlane(60, 60);

                    PolygonFill.Fill(
                        plane,
                        [
                            [a, b, c],
                        ]
                    );

                    var area =
                        Math.Abs((b.Item1 - a.Item1) * (c.Item2 - a.Item2) - (c.Item1 - a.Item1) * (b.Item2 - a.Item2))
                        / 2;
                    // Rounding of coverage at the border pixels, and 1/32 px where a corner lies between two lines.
                    Assert.InRange(plane.Pixels.Sum(p => p / 255.0), area - 2.5, area + 2.5);
                },
                iter: 300
            );
    }

    [Fact]
    public void What_lies_outside_the_plane_is_cut_off()
    {
        var plane = new BytePlane(8, 8);

        PolygonFill.Fill(
            plane,
            [
                [(-1e6, -1e6), (1e6, -1e6), (1e6, 1e6), (-1e6, 1e6)],
            ]
        );

        Assert.All(plane.Pixels, p => Assert.Equal(255, p));
    }

    [Theory]
    [InlineData(FillRule.NonZero, 255)]
    [InlineData(FillRule.EvenOdd, 0)]
    public void Two_contours_of_one_direction_fill_or_spare_their_overlap(FillRule rule, byte middle)
    {
        var plane = new BytePlane(9, 9);

        PolygonFill.Fill(
            plane,
            [
                [(0, 0), (9, 0), (9, 9), (0, 9)],
                [(3, 3), (6, 3), (6, 6), (3, 6)],
            ],
            rule
        );

        Assert.Equal((255, middle), (plane[1, 1], plane[4, 4]));
    }

    [Fact]
    public void A_contour_of_the_other_direction_is_a_hole_under_both_rules()
    {
        foreach (var rule in Enum.GetValues<FillRule>())
        {
            var plane = new BytePlane(9, 9);

            PolygonFill.Fill(
                plane,
                [
                    [(0, 0), (9, 0), (9, 9), (0, 9)],
                    [(3, 3), (3, 6), (6, 6), (6, 3)],
                ],
                rule
            );

            Assert.Equal(0, plane[4, 4]);
        }
    }

    [Fact]
    public void Painting_with_zero_knocks_out()
    {
        var plane = new BytePlane(3, 1, [255, 255, 255]);

        PolygonFill.Fill(
            plane,
            [
                [(0.5, 0), (2, 0), (2, 1), (0.5, 1)],
            ],
            value: 0
        );

        Assert.Equal([127, 0, 255], plane.Pixels);
    }

    [Fact]
    public void A_point_that_is_no_number_is_refused()
    {
        var refused = Assert.Throws<ArgumentException>(() =>
            PolygonFill.Fill(
                new(3, 3),
                [
                    [(0, 0), (double.NaN, 1), (1, 1)],
                ]
            )
        );

        Assert.Equal("point 1 of a contour is (NaN, 1); give finite numbers", refused.Message);
    }
}
