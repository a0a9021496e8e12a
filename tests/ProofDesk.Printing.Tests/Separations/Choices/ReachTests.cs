using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Choices;

public sealed class ReachTests
{
    private static readonly PrintMethod Method = PrintMethods.Find("four-colour-process")!;

    // Left half a neon green no ink has, middle a grey every print has, right transparent.
    private static readonly Separation OnBlackAndWhite = Method.Separate(
        PaintedArt.Of(
            120,
            40,
            60,
            (x, _) =>
                x < 0.5 ? (0.1, 1, 0.1, 1)
                : x < 0.75 ? (0.5, 0.5, 0.5, 1)
                : (0, 0, 0, 0)
        ),
        Method,
        [TestGrounds.Black, TestGrounds.White],
        new()
    );

    [Fact]
    public void What_is_more_colourful_than_the_inks_is_marked_by_how_far_it_was_moved()
    {
        var reach = OnBlackAndWhite.Reach[0];

        Assert.Equal(["Black", "White"], OnBlackAndWhite.Reach.Select(r => r.Ground.Colour.Name));
        Assert.True(reach.Moved[20, 20] > 5 * Reach.Fifths, $"the neon green moved {reach.Moved[20, 20] / 5.0:0.0}");
        Assert.InRange(reach.Moved[75, 20], 0, 2 * Reach.Fifths);
        Assert.Equal(0, reach.Moved[110, 20]);
        Assert.Equal(Reach.Paper, reach.Grey[110, 20]);
        Assert.Equal(128, reach.Grey[75, 20], 2.0);
        // Two thirds of what is inked.
        Assert.Equal(2 / 3.0, reach.OutOfReachShare, 0.02);
        Assert.InRange(reach.MostMove, reach.MeanMove, 60);
    }

    [Fact]
    public void The_numbers_are_those_of_the_finding()
    {
        var (reach, fit) = (OnBlackAndWhite.Reach[1], OnBlackAndWhite.Fits[1]);

        Assert.Equal(
            (fit.OutOfReachShare, fit.MeanMove, fit.MostMove),
            (reach.OutOfReachShare, reach.MeanMove, reach.MostMove)
        );
        Assert.Contains(
            OnBlackAndWhite.Findings,
            f =>
                f.Code == "tonal-fit"
                && f.Message.StartsWith("on white ", StringComparison.Ordinal)
                && f.Message.EndsWith(
                    FormattableString.Invariant(
                        $"{100 * reach.OutOfReachShare:0} % of the art is more colourful than the inks and was brought in"
                    ),
                    StringComparison.Ordinal
                )
        );
    }

    [Fact]
    public void The_picture_is_grey_where_the_print_follows_and_coloured_where_it_does_not()
    {
        var picture = ReachPicture.Draw(OnBlackAndWhite.Reach[0]);
        var row = picture.Row(20).ToArray();

        Assert.Equal(120, picture.Width);
        Assert.True(picture.Height > 40, "a legend stands under the art");
        Assert.NotEqual(row[3 * 20], row[3 * 20 + 2]);
        Assert.Equal(row[3 * 75], row[3 * 75 + 2]);
        Assert.Equal([Reach.Paper, Reach.Paper, Reach.Paper], row[(3 * 110)..(3 * 110 + 3)]);
    }

    [Fact]
    public void Spot_art_has_none()
    {
        var spot = PrintMethods.Find("plastisol")!;
        var separation = spot.Separate(
            PaintedArt.Of(40, 40, 40, (_, _) => (0.8, 0.1, 0.1, 1)),
            spot,
            [TestGrounds.White],
            new()
        );

        Assert.Empty(separation.Reach);
        Assert.Empty(separation.Fits);
    }
}
