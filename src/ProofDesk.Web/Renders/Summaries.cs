using System.Collections.Immutable;
using ProofDesk.Adapters.Renders;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.ByHand;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Renders;

/// <summary>Writes down what the pages will say about a finished proof; minutes by the shop's card as it was then.</summary>
internal static class Summaries
{
    public static PrintSummary Of(ProofOrderPrint print, Proof proof, RateCard card) =>
        new(
            print.Key,
            print.Name,
            Layout.Words.Place(print.Place.ToString()),
            proof.Request.Method.Name,
            proof.Request.Method.Caution,
            proof.Separation.WidthMm,
            proof.Separation.HeightMm,
            print.FromSeamMm,
            print.FromCentreMm,
            (int)proof.Films.Device.OwnXDpi,
            (int)proof.Films.Device.OwnYDpi,
            print.Words,
            [.. proof.Films.Plates.Select((_, i) => PlateOf(print.Key, proof, i))],
            [.. proof.Grounds.Select(g => GroundOf(print.Key, proof, g))],
            Findings(proof.Findings)
        )
        {
            Press = PressWords(print, proof.Request.Press),
            Device = DeviceWords(print, proof.Films.Device),
            HandOver = InkListJson.HandOverWords(proof.Films.Device.HandOver),
            Images = proof.Films.Layout is { IsOne: false } layout
                ? FormattableString.Invariant($"{layout.Words}, {layout.GapMm:0.#} mm apart")
                : null,
            FilmsPath = BoundFiles.FilmsPath(print.Key),
            Roster = [.. proof.Roster?.Pieces.Select(p => RosterLine.Of(p.Entry)) ?? []],
            RosterPath = proof.Roster is null ? null : BoundFiles.RosterPath(print.Key),
            SecondSet = SecondSetSummary.Of(proof, card),
        };

    private static string PressWords(ProofOrderPrint print, PressSettings press) =>
        (print.Press.Split('@') is [_, var version] ? $"{press.Name}, version {version}" : press.Name)
        + $", data class {press.DataClass}";

    private static string DeviceWords(ProofOrderPrint print, OutputDevice device) =>
        (print.Options?.Device?.Split('@') is [_, var version] ? $"{device.Name}, version {version}" : device.Name)
        + $", frame {device.Frame.Name}"
        + (device.Mirror ? ", mirrored" : "")
        + (
            device.IsStretched
                ? FormattableString.Invariant(
                    $", drawn {device.XStretchPercent:+0.##;-0.##;0} % wide and {device.YStretchPercent:+0.##;-0.##;0} % high"
                )
                : ""
        )
        + (device.Tones is null ? "" : ", tones corrected");

    public static ImmutableArray<FindingSummary> Findings(ImmutableArray<Finding> findings) =>
        [
            .. findings
                .OrderByDescending(f => f.Weight)
                .Select(f => new FindingSummary(
                    f.Code,
                    f.Weight.ToString().ToLowerInvariant(),
                    f.Message,
                    f.NextStep,
                    f.Measured,
                    f.Limit,
                    f.Unit
                )
                {
                    Spot = f.Spot is { } spot ? new(spot.XMm, spot.YMm, spot.WidthMm, spot.HeightMm) : null,
                }),
        ];

    private static Lab LabOf(Proof proof, string plate) =>
        proof.Grounds.SelectMany(g => g.InkList.Rows).FirstOrDefault(r => r.Plate == plate)?.ExpectedLab
        ?? new Lab(50, 0, 0);

    private static PlateSummary PlateOf(string key, Proof proof, int index)
    {
        var film = proof.Films.Plates[index];
        var plate = film.Plate;
        var row = proof.Grounds.SelectMany(g => g.InkList.Rows).FirstOrDefault(r => r.Plate == plate.Name);
        var wedge = plate.Mesh.IsNone ? [] : WedgeReading.Of(proof.Separation, index, [], proof.Request.Press);
        return new(
            index + 1,
            plate.Name,
            InkListMaker.PurposeName(plate.Purpose),
            plate.Ink.Name,
            Hex.Of(LabOf(proof, plate.Name)),
            plate.Mesh.Label,
            row?.LinesPerInch,
            row?.AngleDegrees,
            row?.DotShape ?? "",
            plate.Strokes,
            plate.FlashAfter,
            proof.Measures[index].CoveragePercent,
            proof.Measures[index].Sha256,
            BoundFiles.FilmViewPath(key, index, proof)
        )
        {
            FilmPath = BoundFiles.WholeFilmPath(key, index, proof),
            Checks = index < proof.PlateChecks.Length ? [.. CheckWords(proof.PlateChecks[index])] : null,
            ByHand = plate.ByHand,
            Made = MadeOf(plate.Made ?? plate),
            PrintsAs = [.. wedge.Select(step => Math.Round(100 * step.Printed, 1))],
            WedgeAreasCm2 = [.. wedge.Select(step => Math.Round(step.AreaCm2, 2))],
        };
    }

    private static IEnumerable<string> CheckWords(PlateCheck check)
    {
        if (check.ThreadsPerLine is { } threads)
            yield return FormattableString.Invariant($"{threads:0.0} threads a line");
        if (check.BeatMm is { } beat)
            yield return FormattableString.Invariant($"longest beat with the mesh {beat:0.0} mm");
        if (check.GreyLevels is { } levels)
            yield return FormattableString.Invariant($"{levels} tones a cell");
        if (check.SmallDotPercent is { } small)
            yield return FormattableString.Invariant(
                $"{small:0.0} % of its area in dots under {check.SafeDotUm:0} µm, weak tones {(check.WeakTones == WeakTones.Hold ? "held" : "cut")}"
            );
        if (check.ThinBaseMm is { } thin)
            yield return FormattableString.Invariant($"{thin:0} mm of base strips under 0.25 mm");
    }

    private static MadeSummary MadeOf(Plate made) =>
        new(
            made.Mesh.Label,
            made.Screen.LinesPerInch,
            made.Screen.AngleDegrees,
            HandWorkJson.Word(made.Screen.Dot),
            made.Strokes,
            made.FlashAfter
        );

    private static GroundSummary GroundOf(string key, Proof proof, GroundProof ground)
    {
        var paths = GroundPaths.Of(key, ground.Ground);
        var colour = ground.Ground.Colour;
        return new(
            ground.Ground.Id,
            ground.Ground.Garment.Name,
            colour.Name,
            Hex.Of(colour.Reflectance),
            Composition(colour),
            colour.DataClass.ToString(),
            paths.Print,
            paths.End(Deposit.Light),
            paths.End(Deposit.Heavy),
            paths.Garment,
            ground.Expected.Print.PixelsPerMm,
            ground.Expected.MarginMm,
            100 * ground.Expected.OutOfGamutShare,
            ground.Expected.OutOfGamutMaxDeltaE,
            [.. Heads(ground, paths)],
            [.. ground.InkList.Rows.Select(RowOf)],
            [.. ground.Plan.Runs.Select(r => RunOf(proof, r))]
        )
        {
            Shirts = ground.Strip is { } strip ? ShirtsOf(strip, paths) : null,
            Hand = ground.Hand is { } hand ? new(hand.Words, hand.ThickestUm, hand.DryGrams) : null,
            Reach = ReachSummary.Of(proof, ground, paths),
            Press = ground.PressPlan is { } plan
                ? new(
                    plan.Equipment.Name,
                    plan.Equipment.Heads,
                    plan.FreeHeads,
                    [
                        .. plan
                            .Heads.Where(h => h.Task != HeadTask.Free)
                            .Select(h => new PressHeadSummary(
                                h.Head,
                                h.Task.ToString().ToLowerInvariant(),
                                h.Screen,
                                h.Text
                            )),
                    ]
                )
                : null,
        };
    }

    private static ShirtsSummary ShirtsOf(RunStrip strip, GroundPaths paths)
    {
        var apart = strip.WorstRegisterMm.Sort();
        return new(paths.Run, strip.Shirts.Length, strip.WindowMm, apart[apart.Length / 2], apart[^1]);
    }

    // The last head leaves the finished print, which is there already.
    private static IEnumerable<HeadSummary> Heads(GroundProof ground, GroundPaths paths)
    {
        var running = ground.Plan.Runs.Where(r => r.Runs).ToList();
        return running.Select(
            (run, i) =>
                new HeadSummary(
                    run.Plate + 1,
                    run.Ink.Name + (run.FlashAfter ? " and flash" : ""),
                    i < ground.HeadByHead.Length ? paths.Head(ground.HeadByHead[i].AfterScreens) : paths.Print
                )
        );
    }

    private static InkRow RowOf(InkListRow r) =>
        new(
            r.Order,
            r.Plate,
            r.Purpose,
            r.Ink,
            r.InkType,
            r.Mesh,
            r.LinesPerInch,
            r.AngleDegrees,
            r.DotShape,
            r.Strokes,
            r.Flash,
            r.CoveragePercent,
            r.AreaCm2,
            r.TheoreticalInkVolumeCm3PerM2,
            r.GramsPer100Prints,
            r.GramsToMix,
            FormattableString.Invariant($"{r.ExpectedLab.L:0} / {r.ExpectedLab.A:0} / {r.ExpectedLab.B:0}"),
            Hex.Of(r.LightLab),
            Hex.Of(r.ExpectedLab),
            Hex.Of(r.HeavyLab),
            r.DataClass
        )
        {
            RangeDeltaE00 = r.SpanDeltaE00,
            Target = r.Target?.Verdict,
            ByHand = r.ByHand,
            Mix = r.Mix.IsEmpty
                ? null
                : string.Join(", ", r.Mix.Select(p => FormattableString.Invariant($"{p.Name} {p.Grams:0.#} g"))),
        };

    private static RunSummary RunOf(Proof proof, ScreenRun run) =>
        new(
            run.Plate + 1,
            proof.Separation.Plates[run.Plate].Name,
            run.Runs,
            run.Ink.Name,
            run.Strokes,
            run.FlashAfter,
            run.Reason
        );

    private static string Composition(GarmentColour colour) =>
        string.Join(
            ", ",
            colour.Fibres.Select(f =>
                FormattableString.Invariant($"{100 * f.Share:0} % {f.Fibre.ToString().ToLowerInvariant()}")
            )
        );
}
