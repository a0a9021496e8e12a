using CsCheck;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Tests.Colour;

public sealed class Ciede2000Tests
{
    public static TheoryData<int> Pairs => [.. Enumerable.Range(1, 34)];

    // [SHARMA-2005] table 1, all 34 rows.
    [Theory]
    [MemberData(nameof(Pairs))]
    public void Each_published_pair_has_the_published_difference_in_both_directions(int pair)
    {
        var rows = PublishedTable.Rows("ciede2000-sharma-2005.csv");
        Assert.Equal(34, rows.Length);
        var row = rows[pair - 1];
        var one = new Lab(row[0], row[1], row[2]);
        var two = new Lab(row[3], row[4], row[5]);

        Assert.Equal(row[6], Ciede2000.Difference(one, two), 1e-4);
        Assert.Equal(row[6], Ciede2000.Difference(two, one), 1e-4);
    }

    [Fact]
    public void A_colour_does_not_differ_from_itself_and_every_other_one_differs_by_more_than_nothing()
    {
        var colour = Gen.Select(
            Gen.Double[0, 100],
            Gen.Double[-90, 90],
            Gen.Double[-90, 90],
            (l, a, b) => new Lab(l, a, b)
        );

        Gen.Select(colour, colour)
            .Sample(
                (one, two) => Ciede2000.Difference(one, one) == 0 && (one == two || Ciede2000.Difference(one, two) > 0)
            );
    }
}
