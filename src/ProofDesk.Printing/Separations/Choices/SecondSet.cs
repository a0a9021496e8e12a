using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>What a set of plates of their own would do for a ground.</summary>
/// <param name="OneSet">Mean CIEDE2000 from the wanted colours over all of the art, all grounds sharing one set.</param>
/// <param name="TwoSets">The same with two sets.</param>
public sealed record SetGain(Ground Ground, double OneSet, double TwoSets)
{
    public double Gain => OneSet - TwoSets;
}

/// <summary>Grounds that would gain most from plates of their own, and what that takes.</summary>
/// <param name="Serves">Grounds of the second set; the others keep the first.</param>
/// <param name="Gains">Every ground of the order.</param>
/// <param name="Screens">Screens of the second set.</param>
/// <param name="Files">True where plates are print files and no screens.</param>
public sealed record SecondSet(
    ImmutableArray<Ground> Serves,
    ImmutableArray<SetGain> Gains,
    int Screens,
    bool Files = false
)
{
    /// <summary>From this much on some ground (CIEDE2000) a second set is worth a sentence; a client sees 1 side by side.</summary>
    public const double WorthSaying = 0.5;

    public double BestGain => Gains.Max(g => g.Gain);

    internal Finding Finding(ScreenRates rates)
    {
        var serves = Names(Serves);
        var gains = string.Join(
            ", ",
            Gains.Select(g => Text($"{g.OneSet:0.0} to {g.TwoSets:0.0} on {Name(g.Ground)}"))
        );
        var what = Files
            ? $"print files of their own for {serves}"
            : $"a second set of {Screens} {(Screens == 1 ? "screen" : "screens")} for {serves}";
        var cost = Files
            ? ""
            : Text(
                $"; that is about {Screens * rates.MinutesPerScreen:0} minutes of making, setting up and taking down"
            );
        return BestGain >= WorthSaying
            ? new(
                "second-set",
                FindingWeight.Note,
                $"{what} would bring the print nearer to the art, mean dE00 {gains}{cost}",
                $"to take it, put {serves} on an order of its own with the same art and print; else nothing",
                Math.Round(BestGain, 1),
                WorthSaying,
                "dE00"
            )
            : new(
                "second-set",
                FindingWeight.Note,
                $"one set serves all grounds: {what} would change the mean dE00 from {gains}",
                "nothing",
                Math.Round(BestGain, 1),
                WorthSaying,
                "dE00"
            );
    }

    private static string Names(ImmutableArray<Ground> grounds) => string.Join(" and ", grounds.Select(Name));

    private static string Name(Ground ground) => ground.Colour.Name.ToLowerInvariant();
}
