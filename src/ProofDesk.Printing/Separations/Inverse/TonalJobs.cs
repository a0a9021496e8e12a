using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>What the jobs of painted art have in common.</summary>
internal static class TonalJobs
{
    /// <summary>Every combination of plates has a colour of its own: twelve plates are 4096.</summary>
    public const int MostPlates = 12;

    /// <summary>Base is the heaviest ink on the shirt: it runs only where it is worth this.</summary>
    private const double BaseCost = 2;

    public static TonalPlate Base(PrintMethod method, SpotSettings settings, Screen screen, Mesh mesh) =>
        new(
            "White base",
            PlatePurpose.BaseAndWhite,
            method.Rules.BaseInk ?? InkLibrary.BaseWhite(method.ColourInk),
            settings.BaseMesh ?? mesh,
            screen,
            BaseCost,
            settings.BaseStrokes,
            true
        );

    /// <summary>
    /// The screen of a plate. Stochastic dots are as large as the mesh holds each of them alone ([PHYSICS] 1.13: 60 to 120 um, not below the
    /// mesh opening); every variant falls independently of the others.
    /// </summary>
    public static Screen Screen(SpotSettings settings, Mesh mesh, double linesPerInch, double angle, int variant) =>
        settings.Dots == DotPlacement.Stochastic
            ? Screening.Screen.Stochastic(settings.StochasticDotUm ?? mesh.SafeFeatureUm, variant)
            : new(linesPerInch, angle, DotShape.Elliptical);

    /// <summary>Pale cloth is its own white; on any other a base runs unless it was refused.</summary>
    public static ImmutableArray<bool> WhiteRuns(ImmutableArray<Ground> grounds, SpotSettings settings) =>
        [
            .. grounds.Select(g =>
                settings.Base switch
                {
                    BaseChoice.None => false,
                    BaseChoice.White => true,
                    _ => !ClothShows.IsPale(Cloth(g)),
                }
            ),
        ];

    public static Lab Cloth(Ground ground) =>
        CieLab.FromXyz(Tristimulus.Of(Brightener.Radiance(ground.Colour), ViewingLight.D50), ViewingLight.D50);

    /// <summary>No plates, only why.</summary>
    public static Separation Refused(SizedArt art, ImmutableArray<Ground> grounds, IEnumerable<Finding> why) =>
        new(
            [],
            [.. grounds.Select(g => new GroundPlan(g, []))],
            [],
            art.WidthMm,
            art.HeightMm,
            art.PixelsPerMm,
            [.. art.Findings, .. why]
        );
}
