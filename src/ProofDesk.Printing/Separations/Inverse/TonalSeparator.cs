using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>Painted art becomes plates: solve the table, draw the tones, choke the base, take growth back.</summary>
internal static class TonalSeparator
{
    /// <summary>Mixes of base below and bare cloth for which film tones are tabulated.</summary>
    private const int BaseLevels = 16;

    public static Separation Separate(
        SizedArt art,
        TonalJob job,
        ImmutableArray<ToneShare> tones,
        IEnumerable<Finding> findings
    )
    {
        var grounds = Grounds(job);
        var (solvedOn, weights) = SolvedOn(grounds);
        var coverage = ArtCoverage.Of(art.Pixels);
        var positions = new TablePositions();
        var cloth = SeparationTable.Cloth(solvedOn, positions);
        var cells = TonalDrawing.Cells(art.Pixels, coverage, positions, cloth);
        var table = SeparationTable.Solve(solvedOn, weights, job, cells, positions) with { AllGrounds = [.. grounds] };
        var wanted = TonalDrawing.Draw(art.Pixels, coverage, table, cloth);
        var made = Plates(job, art, coverage, wanted);
        TonalFit[] fits = tones.IsEmpty ? [] : [.. grounds.Select(ground => TonalFit.Of(table, ground, tones))];
        var second = tones.IsEmpty ? null : SecondSets.Of(job, grounds, tones);
        var plans = job.Grounds.Select((ground, g) => new GroundPlan(ground, Runs(job, g))).ToImmutableArray();
        return new(
            made,
            plans,
            [],
            art.WidthMm,
            art.HeightMm,
            art.PixelsPerMm,
            [
                .. art.Findings,
                .. findings,
                .. TonalChecks.Of(table, job, tones, art),
                .. second is null
                    ? []
                    : (Finding[])[second.Finding(ScreenRates.CommonPractice(job.Settings.PressClass))],
            ]
        )
        {
            Fits = [.. fits.Select((fit, g) => GroundFit.Of(job.Grounds[g], fit))],
            SecondSet = second,
            Reach = [.. fits.Select((fit, g) => Reach.Of(grounds[g], art.Pixels, art.PixelsPerMm, fit))],
        };
    }

    /// <summary>Every ground of the job with its model and gamut.</summary>
    public static ImmutableArray<TonalGround> Grounds(TonalJob job) =>
        [.. Enumerable.Range(0, job.Grounds.Length).Select(i => TonalGround.Of(job, i))];

    /// <summary>By the cloth itself: the ends of the gamut do not tell, ink on white cloth is blacker than black cloth.</summary>
    public static ImmutableArray<TonalGround> DarkToPale(ImmutableArray<TonalGround> grounds) =>
        [.. grounds.OrderBy(g => TonalJobs.Cloth(g.Ground).L)];

    /// <summary>A table that may be read at any colour.</summary>
    public static SeparationTable Solve(TonalJob job)
    {
        var grounds = Grounds(job);
        var (solvedOn, weights) = SolvedOn(grounds);
        return SeparationTable.Solve(solvedOn, weights, job, TableCells.All, new()) with { AllGrounds = [.. grounds] };
    }

    /// <summary>
    /// The ground that asks most of the plates, the darkest, and with half its weight the one that differs most from it, so
    /// that one set serves all.
    /// </summary>
    public static (TonalGround[] Grounds, double[] Weights) SolvedOn(ImmutableArray<TonalGround> grounds)
    {
        var order = DarkToPale(grounds);
        return order.Length > 1 ? ([order[0], order[^1]], [1, 0.5]) : ([order[0]], [1]);
    }

    private static ImmutableArray<Plate> Plates(TonalJob job, SizedArt art, ArtCoverage coverage, BytePlane[] wanted)
    {
        var chokePx = job.Settings.ChokeMm * art.PixelsPerMm;
        var press = job.Method.Press.Settings(job.Settings.Press);
        var curves = new Curves(press);
        var baseAt = -1;
        for (var i = 0; i < job.Plates.Length; i++)
            if (job.Plates[i].Purpose.IsBase)
                baseAt = i;
        var outline = coverage.Outline ?? BytePlane.Filled(art.Pixels.Width, art.Pixels.Height, 255);
        if (baseAt >= 0)
        {
            if (!job.Plates[baseAt].Mesh.IsNone)
                TonalBase.Clean(wanted[baseAt], art.PixelsPerMm);
            wanted[baseAt] = TonalBase.Choked(
                wanted[baseAt],
                [.. wanted.Where((_, i) => i != baseAt && job.Plates[i].Purpose != PlatePurpose.HighlightWhite)],
                (int)Math.Round(chokePx),
                (int)Math.Ceiling(Choke.LeastStripMm / 2 * art.PixelsPerMm),
                (int)Math.Round(TonalBase.LeastIslandMm / 2 * art.PixelsPerMm)
            );
        }
        var plates = ImmutableArray.CreateBuilder<Plate>();
        for (var i = 0; i < job.Plates.Length; i++)
        {
            var plate = job.Plates[i];
            var below = i == baseAt || baseAt < 0 ? null : wanted[baseAt];
            BytePlane Rule(BytePlane asked, Screen screen, Mesh mesh, WeakTones weak) =>
                Films(new(press), screen, mesh, weak, asked, below);
            var film = Films(curves, plate.Screen, plate.Mesh, job.Settings.WeakTones, wanted[i], below);
            var shape =
                i == baseAt && coverage.Outline is not null
                    ? Choke.Yielding(outline, job.Settings.ChokeMm, art.PixelsPerMm)
                    : outline;
            plates.Add(
                new(
                    plate.Name,
                    plate.Purpose,
                    plate.Ink,
                    plate.Mesh,
                    plate.Screen,
                    film,
                    shape,
                    wanted[i],
                    plate.Strokes,
                    plate.FlashAfter
                )
                {
                    Rule = Rule,
                }
            );
        }
        return plates.ToImmutable();
    }

    /// <summary>Film tones of the job's screens; plates of one screen and mesh share them.</summary>
    /// <param name="press">Has been through the method's own settings.</param>
    private sealed class Curves(PressSettings press)
    {
        private readonly Dictionary<(Screen, Mesh, WeakTones, bool), FilmTones> _known = [];

        public FilmTones Of(Screen screen, Mesh mesh, WeakTones weak, bool onBase)
        {
            // Which stochastic noise it is does not change how much of it prints.
            var key = (screen with { Variant = 0 }, mesh, weak, onBase);
            if (!_known.TryGetValue(key, out var tones))
                _known[key] = tones = FilmTones.For(key.Item1, mesh, press, onBase, weak);
            return tones;
        }
    }

    private static BytePlane Films(
        Curves curves,
        Screen screen,
        Mesh mesh,
        WeakTones weak,
        BytePlane wanted,
        BytePlane? below
    )
    {
        var onCloth = curves.Of(screen, mesh, weak, onBase: false);
        var onBase = below is null ? onCloth : curves.Of(screen, mesh, weak, onBase: true);
        var mixed = new byte[(BaseLevels + 1) * 256];
        for (var level = 0; level <= BaseLevels; level++)
        for (var tone = 0; tone < 256; tone++)
            mixed[level * 256 + tone] = (byte)(
                (onCloth[(byte)tone] * (BaseLevels - level) + onBase[(byte)tone] * level + BaseLevels / 2) / BaseLevels
            );
        // Colour shows where it lies on the base: from a third of base on, what it does there decides.
        var levels = new byte[256];
        for (var white = 0; white < 256; white++)
            levels[white] = (byte)Math.Min(BaseLevels, (3 * white * BaseLevels + 127) / 255);
        var film = new BytePlane(wanted.Width, wanted.Height);
        RowLoop.Run(
            film.Height,
            film.Width,
            y =>
            {
                var from = wanted.Row(y);
                var to = film.Row(y);
                unchecked
                {
                    if (below is null)
                        for (var x = 0; x < to.Length; x++)
                            to[x] = mixed[from[x]];
                    else
                    {
                        var white = below.Row(y);
                        for (var x = 0; x < to.Length; x++)
                            to[x] = mixed[(levels[white[x]] << 8) + from[x]];
                    }
                }
            }
        );
        return film;
    }

    internal static ImmutableArray<ScreenRun> Runs(TonalJob job, int ground)
    {
        var runs = ImmutableArray.CreateBuilder<ScreenRun>();
        var pale = job.Grounds[ground].Colour.Name.ToLowerInvariant();
        var running = job.RunsOn(ground);
        for (var i = 0; i < job.Plates.Length; i++)
        {
            var plate = job.Plates[i];
            var mine = running.Where(r => r.Plate == i).ToArray();
            if (mine.Length == 0)
                runs.Add(
                    new(
                        i,
                        false,
                        plate.Ink,
                        plate.Strokes,
                        plate.FlashAfter,
                        $"rests on {pale}: the cloth is the white"
                    )
                );
            for (var k = 0; k < mine.Length; k++)
                runs.Add(
                    new(
                        i,
                        true,
                        plate.Ink,
                        plate.Strokes,
                        mine[k].FlashAfter,
                        k > 0 ? "the same screen again after the flash"
                            : plate.IsWhite ? "white where the picture needs light"
                            : "solved for this picture"
                    )
                );
        }
        return runs.ToImmutable();
    }
}
