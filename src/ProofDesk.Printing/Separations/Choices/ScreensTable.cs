using System.Collections.Immutable;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>What so many colours do on one ground.</summary>
/// <param name="Fit">How near they come to the art.</param>
/// <param name="Heads">Heads of the press that are taken, flash and cool-down included; 0 where nothing runs on a press.</param>
/// <param name="Fits">Whether the press has as many.</param>
/// <param name="GramsPerPrint">Wet ink of one print, theoretical volume.</param>
public sealed record ScreensOnGround(GroundFit Fit, int Heads, bool Fits, double GramsPerPrint)
{
    public Ground Ground => Fit.Ground;
}

/// <summary>What so many colours buy and cost.</summary>
/// <param name="Inks">In print order, whites apart.</param>
/// <param name="Screens">With base and highlight white.</param>
/// <param name="Minutes">Making, setting up and taking down the screens, once for the run.</param>
/// <param name="GramsToMix">For the whole run on the ground that takes most ink: with what floods the screens.</param>
/// <param name="CostPerPrint">In the shop's money, where it has said its rates.</param>
public sealed record ScreensRow(
    ImmutableArray<Ink> Inks,
    int Screens,
    ImmutableArray<ScreensOnGround> Grounds,
    double Minutes,
    double GramsToMix,
    double? CostPerPrint
)
{
    public int Colours => Inks.Length;

    public bool FitsPress => Grounds.All(g => g.Fits);
}

/// <summary>What does one more screen buy?</summary>
/// <param name="Rows">One for each count of colours, growing.</param>
/// <param name="Chosen">The count the job as it is set takes; null where it lists its inks by name.</param>
/// <param name="Heads">Heads of the press.</param>
/// <param name="Quantity">Prints of the run.</param>
public sealed record ScreensTable(
    ImmutableArray<ScreensRow> Rows,
    int? Chosen,
    int Heads,
    int Quantity,
    ScreenRates Rates
);
