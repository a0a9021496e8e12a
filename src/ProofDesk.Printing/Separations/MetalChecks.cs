using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Metals;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations;

/// <summary>What every print that mirrors says: the light it is drawn in, and its two colours.</summary>
internal static class MetalChecks
{
    public static IEnumerable<Finding> Of(Separation separation, PrintMethod method, SpotSettings settings)
    {
        var metals = separation.Plates.Where(p => p.Ink.Finish is not null).ToArray();
        if (metals.Length == 0)
            yield break;
        yield return new(
            "metal-light",
            FindingWeight.Note,
            StudioLight.Default.Text,
            "turn a pressed sample in the hand before judging it by a picture"
        );
        var press = method.Press.Settings(settings.Press);
        foreach (var plate in metals)
            if (
                separation.Grounds.FirstOrDefault(g =>
                    g.Runs.Any(r => r.Runs && separation.Plates[r.Plate] == plate)
                ) is
                { } plan
            )
                yield return Colours(plate, plan.Ground, method, press);
    }

    private static Finding Colours(Plate plate, Ground ground, PrintMethod method, PressSettings press)
    {
        var cloth = method.Press.On(
            ground,
            [new(plate.Ink, plate.Mesh, plate.Strokes, false)],
            press,
            Deposit.Expected
        );
        var scattered = cloth.Solid(1);
        var (matt, mirroring) = (LabOf(scattered), LabOf(Mirroring(scattered, cloth.MirrorOfSolid(1)!)));
        return new(
            "metal-has-two-colours",
            FindingWeight.Note,
            Text(
                $"{plate.Name} has no single colour: on {ground.Colour.Name.ToLowerInvariant()} L* {matt.L:0} as an instrument at 45/0 reads it, L* {mirroring.L:0} where it mirrors something white"
            ),
            "show the client both, or a pressed sample",
            Math.Round(mirroring.L - matt.L),
            null,
            "L*"
        );
    }

    /// <summary>What is seen where a mirrored surface shows something as bright as a perfect diffuser.</summary>
    public static Spectrum Mirroring(Spectrum scattered, Spectrum mirror) =>
        Spectrum.Combine(scattered, mirror, (s, m) => s + m);

    private static Lab LabOf(Spectrum spectrum) =>
        CieLab.FromXyz(Tristimulus.Of(spectrum, ViewingLight.D50), ViewingLight.D50);
}
