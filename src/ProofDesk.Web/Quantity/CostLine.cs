using System.Collections.Immutable;
using ProofDesk.Printing.Costs;

namespace ProofDesk.Web.Quantity;

/// <summary>Cost per shirt of one method for every quantity.</summary>
/// <param name="Look">1 to 6: which colour and dashes the line is drawn with; 0 where it is in the table only.</param>
public sealed record CostLine(CostedPrint Print, RateCard Card, int Look)
{
    public double At(int pieces) => RunCost.Of(Print, Card, pieces).PerPiece;

    /// <summary>As if the garments' price step that begins here had not come: the upper edge of the step.</summary>
    public double BeforeStep(int pieces) =>
        RunCost
            .Of(Print, Card with { GarmentBreaks = [.. Card.GarmentBreaks.Where(b => b.From < pieces)] }, pieces)
            .PerPiece;

    public ImmutableArray<int> Steps => [.. Card.GarmentBreaks.Select(b => b.From)];
}
