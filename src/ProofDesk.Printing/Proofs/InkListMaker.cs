using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Proofs;

/// <summary>The ink list of one ground, counted from the film bits: one row for each screen that runs there.</summary>
public static class InkListMaker
{
    /// <summary>Real use over the theoretical volume: 1.3 to 2 (common practice); the middle.</summary>
    public const double RealUse = 1.6;

    /// <summary>A screen wants 150 to 300 g before it floods at all (common practice).</summary>
    public const double FloodGrams = 200;

    private const double MixStepGrams = 10;

    public static InkList Of(
        Films films,
        ImmutableArray<FilmMeasure> measures,
        GroundPlan plan,
        PressSettings press,
        int quantity
    )
    {
        var solids = ExpectedSolids.Of(films.Separation, plan, press).ToDictionary(s => s.Run);
        // Print-flash-print runs one screen twice: one row, both passes in it.
        var screens = Enumerable
            .Range(0, plan.Runs.Length)
            .Where(run => plan.Runs[run].Runs)
            .GroupBy(run => plan.Runs[run].Plate);
        return new(
            plan.Ground,
            [
                .. screens.Select(runs =>
                    Row(
                        films,
                        films.Plates[runs.Key],
                        measures[runs.Key],
                        plan,
                        [.. runs.Select(run => plan.Runs[run])],
                        solids[runs.Last()],
                        quantity
                    ) with
                    {
                        Target = TargetMatches.Of(films.Separation, plan, press, solids[runs.Last()]),
                    }
                ),
            ]
        );
    }

    /// <summary>What a solid of each plate looks like where it first runs, inside sRGB; plate order.</summary>
    public static ImmutableArray<LinearRgb> Solids(Proof proof)
    {
        var solids = new LinearRgb?[proof.Films.Plates.Length];
        foreach (var row in proof.Grounds.SelectMany(g => g.InkList.Rows))
            solids[row.Order - 1] ??= GamutMapping.IntoSrgb(Srgb.FromLab(row.ExpectedLab));
        return [.. solids.Select(s => s ?? new LinearRgb(0.5, 0.5, 0.5))];
    }

    private static InkListRow Row(
        Films films,
        Film film,
        FilmMeasure measure,
        GroundPlan plan,
        ImmutableArray<ScreenRun> runs,
        ExpectedSolid solid,
        int quantity
    )
    {
        var (plate, here) = (film.Plate, runs[^1]);
        // A device that makes the dots is asked for a ruling; what it does with it is simulated.
        var (lpi, angle) =
            films.Device.HandOver == HandOver.DotsOurs
                ? film.TrueScreen
                : (plate.Screen.LinesPerInch, plate.Screen.AngleDegrees);
        var hasTone = PlateTones.Of(plate).HasTones;
        var grams = runs.Sum(r =>
            films.Separation.Press.Grams(measure.AreaCm2, new(r.Ink, plate.Mesh, r.Strokes, r.FlashAfter))
        );
        return new(
            Order: here.Plate + 1,
            Plate: plate.Name,
            Purpose: PurposeName(plate.Purpose),
            Ink: here.Ink.Name,
            InkType: KindName(here.Ink.Kind),
            Mesh: plate.Mesh.Label,
            MeshThreadsPerCm: plate.Mesh.ThreadsPerCm,
            MeshThreadUm: plate.Mesh.ThreadUm,
            LinesPerInch: hasTone && !plate.Screen.IsStochastic ? lpi : null,
            AngleDegrees: hasTone && !plate.Screen.IsStochastic ? angle : null,
            DotShape: !hasTone ? "none (line art)"
                : plate.Screen.IsStochastic ? FormattableString.Invariant($"stochastic, {25400 / lpi:0} um")
                : plate.Screen.Dot.ToString().ToLowerInvariant(),
            Strokes: runs.Sum(r => r.Strokes),
            Flash: runs.Any(r => r.FlashAfter),
            CoveragePercent: measure.CoveragePercent,
            AreaCm2: measure.AreaCm2,
            TheoreticalInkVolumeCm3PerM2: plate.Mesh.TheoreticalInkVolume,
            GramsPer100Prints: 100 * grams,
            GramsToMix: GramsToMix(grams, quantity, plate.Mesh.IsNone ? 0 : FloodGrams),
            ExpectedLab: solid.Expected,
            LightLab: solid.Light,
            HeavyLab: solid.Heavy,
            DataClass: Worse(here.Ink.DataClass, plan.Ground.Colour.DataClass).ToString()
        )
        {
            DaysLaterLab = solid.DaysLater,
            Caution = here.Ink.Caution,
            ByHand = plate.ByHand,
            SpecularLab = solid.Specular,
            MirrorLight = solid.Specular is null ? "" : Metals.StudioLight.Default.Text,
            Mix = here.Ink.Formula?.For(GramsToMix(grams, quantity)) ?? [],
        };
    }

    /// <summary>Prints of the run with those that spoil.</summary>
    internal static int Prints(int quantity) => quantity + Spoilage.Of(quantity);

    /// <summary>What to mix: the flood, and the run with its spoilage at real use, up to the next 10 g.</summary>
    /// <param name="flood">What a screen wants before it floods; nothing where there is no screen.</param>
    internal static double GramsToMix(double gramsPerPrint, int quantity, double flood = FloodGrams)
    {
        var prints = Prints(quantity);
        return MixStepGrams * Math.Ceiling((flood + gramsPerPrint * prints * RealUse) / MixStepGrams);
    }

    private static DataClass Worse(DataClass a, DataClass b) => a > b ? a : b;

    /// <summary>What a plate is for, in words.</summary>
    public static string PurposeName(PlatePurpose purpose) =>
        purpose switch
        {
            PlatePurpose.Base => "base",
            PlatePurpose.BaseAndWhite => "base and white",
            PlatePurpose.Spot => "spot colour",
            PlatePurpose.HighlightWhite => "highlight white",
            PlatePurpose.DischargeBase => "discharge base",
            PlatePurpose.BlockingBase => "blocking base",
            PlatePurpose.Process => "process colour",
            PlatePurpose.Adhesive => "foil adhesive",
            PlatePurpose.Sheet => "sheet",
            _ => purpose.ToString(),
        };

    private static string KindName(InkKind kind) =>
        kind switch
        {
            InkKind.Plastisol => "plastisol",
            InkKind.WaterBased => "water-based",
            InkKind.HighSolidsWaterBased => "water-based, high solids",
            InkKind.Discharge => "discharge",
            InkKind.Metallic => "metallic",
            InkKind.Foil => "foil on adhesive",
            InkKind.Dye => "sublimation dye",
            InkKind.Jet => "jetted pigment",
            InkKind.Sheet => "sheet",
            _ => kind.ToString(),
        };
}
