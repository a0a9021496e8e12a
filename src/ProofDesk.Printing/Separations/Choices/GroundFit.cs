using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>How near a print comes to the art on one ground, by the forward model, weighted by area; differences are CIEDE2000.</summary>
/// <param name="MeanDeltaE">Mean over the art the print can reach.</param>
/// <param name="NinetyFifthDeltaE">95 % of that art is nearer.</param>
/// <param name="OutOfReachShare">Share of the art whose colour had to be brought in, 0..1.</param>
/// <param name="MeanMove">How far it was, on average.</param>
/// <param name="MostMove">The farthest.</param>
/// <param name="MeanFromArt">Mean over all of the art, from the art as its lightness fits this print: the one number that more inks always better.</param>
public sealed record GroundFit(
    Ground Ground,
    double MeanDeltaE,
    double NinetyFifthDeltaE,
    double OutOfReachShare,
    double MeanMove,
    double MostMove,
    double MeanFromArt
)
{
    internal static GroundFit Of(Ground ground, TonalFit fit) =>
        new(
            ground,
            fit.MeanInGamut,
            fit.NinetyFifthInGamut,
            fit.OutOfGamut,
            fit.MeanMove,
            fit.MostMove,
            fit.MeanFromArt
        );
}
