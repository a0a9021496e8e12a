using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Printing.Separations.Inverse;
using ProofDesk.Printing.Separations.Mixed;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Painted art in cyan, magenta, yellow and black, over a white base where a ground is dark. Coverages are solved from the
/// forward model, so black replaces grey, growth is taken back and the base runs only where light is needed.
/// </summary>
internal static class FourColourProcess
{
    /// <summary>Ruling of process work on a fine mesh, capped by the press class (common practice).</summary>
    public const double LinesPerInch = 55;

    /// <summary>
    /// Angles of C, M, Y and K (common practice). The base has black's: they seldom meet, and any other angle would lie 15
    /// degrees from magenta or cyan and beat with it. Where they do meet, their dots lie on each other (<see cref="PlateModel.StepPair"/>).
    /// </summary>
    public static ImmutableDictionary<string, double> Angles { get; } =
        ImmutableDictionary.CreateRange([
            KeyValuePair.Create("process-cyan", 22.5),
            KeyValuePair.Create("process-magenta", 52.5),
            KeyValuePair.Create("process-yellow", 7.5),
            KeyValuePair.Create("black", 82.5),
        ]);

    /// <summary>Wet sheets of ink that still print well on cloth: common practice for textile is 240 to 280 %, and the base.</summary>
    private const double TotalInk = 2.6;

    public static PrintMethod Method { get; } =
        new(
            "four-colour-process",
            "Screen print, four-colour process",
            InkKind.Plastisol,
            InkKind.Plastisol,
            "cyan, magenta, yellow and black dots over a white base on dark cloth: photographs and paintings in few screens",
            ScreenSpot.FlashAndDryer
        )
        {
            Separate = Separate,
            InkFreedom = InkFreedom.OrderOnly,
        };

    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        var refusals = TonalChecks.Settings(method, settings).ToArray();
        if (refusals.Length > 0)
            return TonalJobs.Refused(art, grounds, refusals);
        return MixedSeparator.Separate(
            art,
            Job(method, grounds, settings),
            MixedSeparator.FlatOf(art, settings),
            together: 3,
            SolidInks.NearEnoughOfGiven,
            []
        );
    }

    internal static TonalJob Job(PrintMethod method, ImmutableArray<Ground> grounds, SpotSettings settings)
    {
        var whiteRuns = TonalJobs.WhiteRuns(grounds, settings);
        var plates = ImmutableArray.CreateBuilder<TonalPlate>();
        if (whiteRuns.Contains(true))
        {
            var mesh = Meshes.Find("90-48")!;
            plates.Add(TonalJobs.Base(method, settings, ScreenOf("black", settings.BaseMesh ?? mesh), mesh));
        }
        ImmutableArray<(string Id, string Name, double Cost)> usual =
        [
            ("process-yellow", "Process yellow", 0.6),
            ("process-magenta", "Process magenta", 0.8),
            ("process-cyan", "Process cyan", 0.8),
            ("black", "Black", 0.3),
        ];
        foreach (var (id, name, cost) in settings.Inks.Rules?.InOrder(usual, ink => ink.Id) ?? usual)
            Add(id, name, cost);
        return new(
            method,
            grounds,
            settings,
            plates.ToImmutable(),
            whiteRuns,
            InStep: false,
            TotalInk + (whiteRuns.Contains(true) ? 1 : 0)
        );

        void Add(string id, string name, double cost)
        {
            var mesh = settings.ColourMesh ?? Meshes.FineHalftone;
            plates.Add(new(name, PlatePurpose.Process, InkLibrary.Find(id)!, mesh, ScreenOf(id, mesh), cost, 1, false));
        }

        Screen ScreenOf(string id, Mesh mesh) =>
            TonalJobs.Screen(
                settings,
                mesh,
                settings.LinesPerInch ?? Math.Min(LinesPerInch, settings.FinestLinesPerInch),
                (Angles[id] + settings.AngleDegrees - Angles["process-cyan"] + 180) % 180,
                plates.Count
            );
    }
}
