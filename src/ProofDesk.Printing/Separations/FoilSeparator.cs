using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Printing.Separations;

/// <summary>Each colour of the art becomes an adhesive plate and the foil nearest to it; no base, no halftone.</summary>
public static class FoilSeparator
{
    private static readonly string[] OfInk = ["far-from-art", "thin-lines", "weak-tones", "white-is-grey"];

    /// <summary>The usual mesh of foil adhesive ([PHYSICS] 3.1).</summary>
    public static SpotRules Rules { get; } =
        new()
        {
            HasBase = false,
            HasTones = false,
            ColourMesh = Meshes.Find("32-100"),
            BaseMesh = Meshes.Find("32-100"),
            BaseInk = InkLibrary.Find("foil-silver"),
        };

    public static PrintMethod Method { get; } =
        new(
            "foil",
            "Foil on printed adhesive",
            InkKind.Foil,
            InkKind.Foil,
            "a mirror of foil wherever adhesive was printed: opaque, solids only, loses flakes with washing",
            FoilInks.Caution
        )
        {
            Separate = Separate,
            InkFreedom = InkFreedom.None,
            Rules = Rules,
            Press = new FoilPress(),
            Work = new() { HeatPresses = 1, LaysFoil = true },
            Production = FoilFiles.Of,
        };

    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        var shelf = settings.Inks.Inks.IsEmpty ? FoilInks.All : settings.Inks.Inks;
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
                PrintFlashPrint = false,
                HighlightWhite = false,
            }
        );
        var adhesive = spot with
        {
            Plates =
            [
                .. spot.Plates.Select(p =>
                    p with
                    {
                        Name = $"Adhesive, {Lower(p.Name)}",
                        Purpose = PlatePurpose.Adhesive,
                    }
                ),
            ],
        };
        return adhesive with
        {
            Findings =
            [
                .. spot.Findings.Where(f => !OfInk.Contains(f.Code)),
                .. adhesive.Plates.SelectMany(p => FoilChecks.Features(p, spot.PixelsPerMm)),
                .. FoilChecks.Runs(adhesive),
                .. MetalChecks.Of(adhesive, method, settings),
            ],
        };
    }

    private static string Lower(string name) => char.ToLowerInvariant(name[0]) + name[1..];
}
