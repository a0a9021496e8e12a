using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>
/// Art whose maker kept the inks apart: each layer is a plate as it was drawn, in the order of the file, whatever runs under the
/// colours first. Nothing is knocked out and nothing is trapped; only a base that nobody drew is made, as for spot art.
/// </summary>
internal static class LayeredSeparation
{
    /// <summary>Findings of spot art that mean nothing where the designer decided.</summary>
    private static readonly string[] OfPalettes = ["many-colours", "fewer-colours"];

    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        var rules = method.Rules;
        if (!rules.HasBase)
            settings = settings with { Base = BaseChoice.None };
        if (settings.Base == BaseChoice.Auto && art.Layers.Any(IsDischargeBase))
            settings = settings with { Base = BaseChoice.Discharge };
        var dischargeBase = settings.Base == BaseChoice.Discharge ? rules.DischargeBase : null;
        if (dischargeBase is not null)
            settings = settings with { BaseMesh = settings.BaseMesh ?? Meshes.Discharge, PrintFlashPrint = false };
        var tones = art.Layers.Select(l => LayerTones.Find(l.Coverage, art.PixelsPerMm)).ToImmutableArray();
        var hasTones = rules.HasTones && tones.Any(t => t is not null);
        settings = settings with
        {
            BaseMesh =
                settings.BaseMesh
                ?? (hasTones ? Meshes.HalftoneBase : rules.BaseMesh ?? Meshes.SolidBase(method.BaseInk)),
            ColourMesh = settings.ColourMesh ?? (hasTones ? null : rules.ColourMesh),
        };
        var mesh = settings.ColourMesh ?? (hasTones ? Meshes.HalftoneColour : Meshes.Spot(method.ColourInk));
        var baseInk = dischargeBase ?? rules.BaseInk ?? InkLibrary.BaseWhite(method.ColourInk);
        var white = new InkPass(baseInk, settings.BaseMesh, settings.BaseStrokes, true);
        var appearance = new Appearance(method.Press, settings.Press, white, settings.PrintFlashPrint);
        var job = new LayerJob(art, method, grounds, settings, appearance, mesh, hasTones ? tones : default);

        var matches = job.Match();
        if (matches.Refusals.Length > 0)
            return TonalJobs.Refused(art, grounds, [.. matches.Findings, .. matches.Refusals]);
        var plan = LayerPlan.Of(job, matches.Layers);
        var made = LayerPlates.Make(job, plan);
        var runs = ChangeOver.Plans(made, plan.Decision, grounds, settings);
        var separation = new Separation(
            [.. made.Select(m => m.Plate)],
            runs,
            LayerPlates.Palette(job, plan, made),
            art.WidthMm,
            art.HeightMm,
            art.PixelsPerMm,
            []
        )
        {
            Press = method.Press,
        };
        ImmutableArray<Finding> ofInks =
        [
            .. SeparationChecks
                .Of(art, plan.Palette, plan.Decision, made, runs, appearance, grounds, method, settings)
                .Where(f => !OfPalettes.Contains(f.Code)),
        ];
        return separation with
        {
            Findings =
            [
                .. art.Findings,
                .. matches.Findings,
                .. plan.Findings,
                .. NoTones(job, tones),
                .. ofInks,
                .. dischargeBase is null
                    ? []
                    : DischargeChecks.UnderColours(runs, appearance.BaseWhite, mesh, plan.Decision, settings.Press),
                .. LayerOverlaps.Of(job, plan),
                .. CompositeCheck.Of(job, plan, separation, ofInks),
            ],
        };
    }

    private static bool IsDischargeBase(ArtLayer layer) => LayerNames.Role(layer.Name) == LayerRole.DischargeBase;

    /// <summary>Tones of layers in a method of solids are cut at one half, and that is said.</summary>
    private static ImmutableArray<Finding> NoTones(LayerJob job, ImmutableArray<BytePlane?> tones)
    {
        BytePlane[] found = [.. tones.OfType<BytePlane>()];
        if (job.Method.Rules.HasTones || found.Length == 0)
            return [];
        var all = PlateDrawing.Sum(found, job.Width, job.Height);
        return SeparationChecks.NoTones(job.Method, new([], all, true), job.Art.PixelsPerMm);
    }
}
