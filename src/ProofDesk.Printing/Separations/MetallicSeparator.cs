using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations.Choices;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Spot art in metallic inks and plain black, each as it comes: metal is not mixed to match. Solids only, on a mesh that flakes
/// pass; white under them where it helps.
/// </summary>
public static class MetallicSeparator
{
    /// <summary>Mesh opening over flake size below which flakes clog the mesh (common practice).</summary>
    public const double OpeningOverFlake = 3;

    public static SpotRules Rules { get; } =
        new()
        {
            HasTones = false,
            ColourMesh = Meshes.Find("43-80"),
            BaseInk = InkLibrary.Find("white"),
        };

    public static PrintMethod Method { get; } =
        new(
            "metallic",
            "Screen print, metallic ink",
            InkKind.Metallic,
            InkKind.Plastisol,
            "metal flakes in plastisol: gleams where it mirrors a light, duller than foil and outlives it",
            "flash units, dryers and wash-up solvents can burn, start fires and harm lungs and skin; metal powder must not be breathed; follow the ink supplier's sheet and local rules, and test-wash before the run"
        )
        {
            Separate = Separate,
            InkFreedom = InkFreedom.None,
            Rules = Rules,
            Press = new MetallicPress(),
        };

    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        ImmutableArray<Ink> shelf = settings.Inks.Inks.IsEmpty
            ? [.. MetallicInks.All, InkLibrary.Find("black")!]
            : settings.Inks.Inks;
        var spot = SpotSeparator.Separate(
            art,
            method with
            {
                Press = new MirrorLook(method.Press),
            },
            grounds,
            settings with
            {
                Inks = new(settings.Inks.Count, shelf, []),
            }
        );
        return spot with
        {
            Findings =
            [
                .. spot.Findings.Where(f => f.Code != "far-from-art"),
                .. spot.Plates.SelectMany(MeshRule),
                .. MetalChecks.Of(spot, method, settings),
                .. Ages(spot),
            ],
        };
    }

    private static IEnumerable<Finding> MeshRule(Plate plate)
    {
        if (
            plate.Ink.Finish is not { FlakeUm: > 0 } finish
            || plate.Mesh.OpeningUm >= OpeningOverFlake * finish.FlakeUm
        )
            yield break;
        var least = OpeningOverFlake * finish.FlakeUm;
        var coarser = Meshes.Default.Last(m => m.OpeningUm >= least);
        yield return new(
            "mesh-too-fine-for-flakes",
            FindingWeight.Warning,
            Text(
                $"\"{plate.Name}\" has flakes of {finish.FlakeUm:0} um and its {plate.Mesh.Label} mesh opens {plate.Mesh.OpeningUm:0} um; {least:0} um, three flakes, let them through"
            ),
            $"use {coarser.Label} or a coarser mesh",
            Math.Round(plate.Mesh.OpeningUm),
            least,
            "um"
        );
    }

    private static IEnumerable<Finding> Ages(Separation spot)
    {
        if (spot.Plates.Any(p => p.Ink.Kind == InkKind.Metallic))
            yield return new(
                "metallic-wears",
                FindingWeight.Note,
                "metallic ink is duller than foil and outlives it; with washing it loses some of its gleam and cracks as plastisol does",
                "nothing, or print foil where it must mirror"
            );
    }
}
