using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations.Inverse;
using ProofDesk.Printing.Separations.Mixed;

namespace ProofDesk.Printing.Separations.Choices;

/// <summary>
/// Makes the table of screens of painted art: inks for each count, each count solved for the colours of the picture by the
/// forward model. What a proof with that count says about itself may differ in the last digit: it is solved for all colours.
/// </summary>
public static class ScreensTables
{
    public const int MostColours = 10;

    /// <summary>Whether inks are chosen by count for this method.</summary>
    public static bool Has(PrintMethod method) => method.Id == SimulatedProcess.Method.Id;

    /// <exception cref="ProofRefused">The settings cannot be met, or inks are not chosen by count here.</exception>
    public static ScreensTable Of(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings,
        int quantity,
        ScreenRates rates,
        int mostColours = MostColours
    )
    {
        if (!Has(method))
            throw new ProofRefused([NotHere(method)]);
        ProofRefused.ThrowIfAny([.. TonalChecks.Settings(method, settings)]);
        var whites = SimulatedProcess.Whites(grounds, settings);
        var flat = MixedSeparator.FlatOf(art, settings);
        var tones = MixedSeparator.Tones(art, flat);
        var most = Math.Min(mostColours, TonalJobs.MostPlates - whites);
        var held = SimulatedProcess.Held(flat, method, grounds, settings, most);
        var ladder = SimulatedProcess.Ladder(tones, method, grounds, settings, held, most);
        if (ladder.IsEmpty)
            throw new ProofRefused([InkRuleChecks.NoInkLeft(method, InkLibrary.OfKind(method.ColourInk))]);
        var all = SimulatedProcess.Job(
            method,
            grounds,
            settings,
            [.. SimulatedProcess.Shelf(method, grounds, settings).Concat(held).DistinctBy(i => i.Id)]
        );
        KnownColours[] known = [.. grounds.Select((_, g) => new KnownColours(all, g, quick: false))];
        var looked = DirectFit.Look(tones);
        var areaCm2 = InkedCm2(art);
        return new(
            [
                .. ladder.Select(inks =>
                    Row(SimulatedProcess.Job(method, grounds, settings, inks), known, looked, areaCm2, quantity, rates)
                ),
            ],
            SimulatedProcess.Given(settings).IsEmpty ? SimulatedProcess.Colours(flat, method, grounds, settings) : null,
            settings.HeadCount,
            quantity,
            rates
        );
    }

    private static ScreensRow Row(
        TonalJob job,
        KnownColours[] known,
        ImmutableArray<ToneShare> tones,
        double areaCm2,
        int quantity,
        ScreenRates rates
    )
    {
        ImmutableArray<TonalGround> grounds = [.. known.Select((k, g) => TonalGround.Of(job, g, k.Model(job)))];
        var coverages = DirectFit.Coverages(job, grounds, tones);
        var mean = new double[job.Plates.Length];
        var whole = tones.Sum(t => t.Share);
        for (var i = 0; i < tones.Length; i++)
        for (var p = 0; p < mean.Length; p++)
            mean[p] += tones[i].Share / whole * coverages[i][p];
        double[][] grams = [.. grounds.Select((_, g) => Grams(job, g, mean, areaCm2))];
        var mixed = Enumerable
            .Range(0, mean.Length)
            .Sum(p => InkListMaker.GramsToMix(grams.Max(ground => ground[p]), quantity));
        return new(
            [.. job.Plates.Where(p => !p.IsWhite).Select(p => p.Ink)],
            job.Plates.Length,
            [
                .. grounds.Select(
                    (ground, g) =>
                    {
                        var heads = Heads(job, g);
                        return new ScreensOnGround(
                            GroundFit.Of(job.Grounds[g], TonalFit.Of(ground, tones, i => coverages[i])),
                            heads,
                            heads <= job.Settings.HeadCount,
                            grams[g].Sum()
                        );
                    }
                ),
            ],
            job.Plates.Length * rates.MinutesPerScreen,
            mixed,
            rates.PerPrint(job.Plates.Length, mixed, quantity)
        );
    }

    /// <summary>Wet ink of one print from each plate on a ground.</summary>
    private static double[] Grams(TonalJob job, int ground, double[] mean, double areaCm2)
    {
        var grams = new double[mean.Length];
        foreach (var (p, flash) in job.RunsOn(ground))
        {
            var plate = job.Plates[p];
            grams[p] += job.Method.Press.Grams(areaCm2 * mean[p], new(plate.Ink, plate.Mesh, plate.Strokes, flash));
        }
        return grams;
    }

    /// <summary>Heads by the press plan of these plates, drawn on nothing.</summary>
    private static int Heads(TonalJob job, int ground)
    {
        var blank = new BytePlane(1, 1);
        var plan = new GroundPlan(job.Grounds[ground], TonalSeparator.Runs(job, ground));
        var separation = new Separation(
            [
                .. job.Plates.Select(p => new Plate(
                    p.Name,
                    p.Purpose,
                    p.Ink,
                    p.Mesh,
                    p.Screen,
                    blank,
                    null,
                    blank,
                    p.Strokes,
                    p.FlashAfter
                )),
            ],
            [plan],
            [],
            1,
            1,
            1,
            []
        );
        return PressPlan.Of(separation, plan, PressEquipment.Of(job.Settings)) is { } heads
            ? heads.Equipment.Heads - heads.FreeHeads
            : 0;
    }

    private static double InkedCm2(SizedArt art)
    {
        var inked = 0L;
        for (var y = 0; y < art.Pixels.Height; y++)
        {
            var row = art.Pixels.Row(y);
            for (var x = 3; x < row.Length; x += 4)
                inked += row[x];
        }
        return inked / 65535.0 / (art.PixelsPerMm * art.PixelsPerMm) / 100;
    }

    private static Finding NotHere(PrintMethod method) =>
        new(
            "no-table-of-screens",
            FindingWeight.Refusal,
            $"the table of screens is for painted art in inks chosen by count; {method.Id} does not choose them so",
            $"ask for it with {SimulatedProcess.Method.Id}"
        );
}
