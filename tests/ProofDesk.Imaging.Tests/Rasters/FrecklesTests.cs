using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Imaging.Tests.Rasters;

public sealed class FrecklesTests
{
    private static BytePlane Draw(params string[] rows)
    {
        var plane = new BytePlane(rows[0].Length, rows.Length);
        for (var y = 0; y < rows.Length; y++)
        for (var x = 0; x < rows[y].Length; x++)
            plane[x, y] = rows[y][x] switch
            {
                '.' => 0,
                'o' => 100,
                _ => 200,
            };
        return plane;
    }

    private static string[] Text(BytePlane plane) =>
        [
            .. Enumerable
                .Range(0, plane.Height)
                .Select(y => new string([
                    .. plane
                        .Row(y)
                        .ToArray()
                        .Select(v =>
                            v == 0 ? '.'
                            : v < 150 ? 'o'
                            : '#'
                        ),
                ])),
        ];

    [Fact]
    public void Small_islands_go_small_holes_close_and_lines_stay()
    {
        var plane = Draw(
            "..........",
            ".##....#..",
            ".##.......",
            ".......##.",
            "##########",
            "####.#####",
            "##########",
            "##########"
        );

        var (islands, holes) = Freckles.Clean(plane, 13, 4);

        // Two pixels touch the field over a corner or an edge and belong to it; one alone goes.
        Assert.Equal((1, 1), (islands, holes));
        Assert.Equal(
            [
                "..........",
                ".##.......",
                ".##.......",
                ".......##.",
                "##########",
                "##########",
                "##########",
                "##########",
            ],
            Text(plane)
        );
    }

    [Fact]
    public void A_hole_is_filled_with_the_mean_of_both_sides_and_the_border_is_no_hole()
    {
        var plane = Draw("oo######", "oo.#####", "ooo####.");
        Freckles.Clean(plane, 13, 3);

        Assert.Equal(150, plane[2, 1]);
        Assert.Equal(0, plane[7, 2]);
    }

    // Joined only at the end, over arms on both sides.
    [Fact]
    public void Arms_that_meet_are_one_island()
    {
        var plane = Draw("#.#.#", "#.#.#", "#####");

        Assert.Equal((0, 0), Freckles.Clean(plane, 13, 11));
        Assert.Equal((1, 0), Freckles.Clean(plane, 13, 12));
    }
}
