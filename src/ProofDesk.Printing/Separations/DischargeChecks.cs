using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations;

/// <summary>What a cloth does under discharge: cannot, need not, only partly, and how far it may vary.</summary>
internal static class DischargeChecks
{
    /// <summary>A dye of which more than this stays gives the print's ground its colour (practice: such garments are not sold as dischargeable).</summary>
    private const double Resists = 0.05;

    public static IEnumerable<Finding> Of(Ground ground, InkPass pass, PressSettings press)
    {
        var colour = ground.Colour;
        var name = colour.Name.ToLowerInvariant();
        if (Discharge.CelluloseShare(colour) >= Discharge.LeastCelluloseShare && HasNothingToLose(colour))
            return
            [
                new(
                    "nothing-to-discharge",
                    FindingWeight.Note,
                    $"{name} has no dye in its cotton to take out: the print is what water-based ink would give",
                    "print it water-based, which needs no activator"
                ),
            ];
        if (Discharge.Refusal(colour) is { } refusal)
            return [new("cannot-be-discharged", FindingWeight.Refusal, refusal.What, refusal.NextStep)];
        return Prediction(colour, name, pass, press);
    }

    /// <summary>A discharge base under colours of film: the same about each cloth, and what the hand notices.</summary>
    public static IEnumerable<Finding> UnderColours(
        ImmutableArray<GroundPlan> plans,
        InkPass pass,
        Mesh colourMesh,
        BaseDecision decision,
        PressSettings press
    )
    {
        foreach (var plan in plans.Where(plan => !RestsThere(plan.Ground.Colour)))
        foreach (var finding in Of(plan.Ground, pass, press))
            yield return finding;
        if (!decision.Exists || !decision.Runs.Contains(true))
            yield break;
        var colour = decision.Inks.First(ink => ink.OnBase).Ink;
        double Film(Mesh mesh, Ink ink, bool flashed) =>
            DepositModel.FilmUm(mesh, ink, press, 1, flashed, Deposit.Expected);
        var here = Film(colourMesh, colour, false) * (1 - press.WickedShare);
        var white =
            Film(Meshes.SolidBase(colour.Kind), InkLibrary.BaseWhite(colour.Kind), false) * (1 - press.WickedShare)
            + Film(colourMesh, colour, true);
        yield return new(
            "softer-than-a-white-base",
            FindingWeight.Note,
            Text(
                $"colours lie {here:0} um thick on discharged cloth, {white:0} um with a white base under them: thinner and softer, and duller, because the cloth turns off-white at best"
            ),
            "nothing, or ask for --base white where colours must be brilliant",
            Math.Round(here),
            Math.Round(white),
            "um"
        );
    }

    /// <summary>Undyed cotton and pale cloth of any fibre need no base; dark polyester does, and discharge cannot be it.</summary>
    private static bool RestsThere(GarmentColour colour) =>
        HasNothingToLose(colour)
        && (
            Discharge.CelluloseShare(colour) >= Discharge.LeastCelluloseShare
            || ClothShows.IsPale(LabOf(colour.Reflectance))
        );

    private static IEnumerable<Finding> Prediction(GarmentColour colour, string name, InkPass pass, PressSettings press)
    {
        Lab After(Deposit deposit) => LabOf(DischargeAction.Cloth(colour, pass, press, deposit));

        var (before, expected) = (LabOf(colour.Reflectance), After(Deposit.Expected));
        if (Discharge.CelluloseDyes(colour).MaxBy(d => d.ResidualShare) is { ResidualShare: > Resists } worst)
            yield return new(
                "partly-discharged",
                FindingWeight.Warning,
                Text(
                    $"{name} discharges only in part: {100 * worst.ResidualShare:0} % of its {worst.Dye.Name} stays, so the ground under the print turns {ColourNames.Of(expected).ToLowerInvariant()} ({Words(expected)}) and not off-white"
                ),
                "show the client the proof and say so, choose a garment that the maker calls dischargeable, or print plastisol on a white base",
                Math.Round(100 * worst.ResidualShare, 1),
                100 * Resists,
                "%"
            );
        var cellulose = Discharge.CelluloseShare(colour);
        if (cellulose < 0.995)
            yield return new(
                "part-of-the-fibres",
                FindingWeight.Warning,
                Text(
                    $"{name} is {100 * cellulose:0} % cotton or viscose and the other fibres keep their dye: the ground under the print goes from L* {before.L:0} to {expected.L:0} only"
                ),
                "expect a dull print, choose a garment of cotton, or print plastisol on a white base",
                Math.Round(100 * cellulose),
                100,
                "%"
            );
        var (weak, strong) = (After(Deposit.Light), After(Deposit.Heavy));
        yield return new(
            "discharge-varies",
            FindingWeight.Note,
            Text(
                $"discharge varies between makers of the same colour: the ground under the print on {name} is expected at L* {expected.L:0}, weak to strong discharge at L* {weak.L:0} to {strong.L:0}"
            ),
            "print a sample on the very garments of the order; the proof holds for no other maker",
            Math.Round(strong.L - weak.L, 1),
            null,
            "L*"
        );
    }

    // Undyed cotton, or a heather whose dark fibre is polyester.
    private static bool HasNothingToLose(GarmentColour colour) =>
        Discharge.CelluloseDyes(colour).Length == 0
        && ClothFibre.Of(colour).Where(f => f.IsCellulose).All(f => !f.Dyed || ClothShows.IsPale(LabOf(f.Reflectance)));

    private static string Words(Lab lab) => Text($"L* {lab.L:0}, a* {lab.A:0}, b* {lab.B:0}");

    private static Lab LabOf(Spectrum spectrum) =>
        CieLab.FromXyz(Tristimulus.Of(spectrum, ViewingLight.D50), ViewingLight.D50);
}
