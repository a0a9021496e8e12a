using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>From layers to plates: the outline as it was drawn, tones compensated for the growth of dots as any tone is.</summary>
internal static class LayerPlates
{
    public static ImmutableArray<MadePlate> Make(LayerJob job, LayerPlan plan)
    {
        var settings = job.Settings;
        var maker = new PlateMaker(job.Method, settings, job.Art.PixelsPerMm);
        var white = job.Appearance.BaseWhite.Ink;
        var names = new PlateNames("Blocking base");
        var under =
            plan.Under is { } drawn ? Drawing(job, drawn)
            : plan.Decision.Exists ? MadeBase(job, plan)
            : null;
        AddBlocking(job, plan, maker, under);
        if (under is not null)
        {
            var carries = plan.OnBaseScreen is not null || plan.Under is not null && IsSeen(job, plan);
            var (name, purpose) =
                white.Kind == InkKind.Discharge ? ("Discharge base", PlatePurpose.DischargeBase)
                : carries ? ("White base", PlatePurpose.BaseAndWhite)
                : ("Base", PlatePurpose.Base);
            maker.Add(names.Take(name), purpose, white, plan.OnBaseScreen?.Ink, under, under.Shape, false);
        }
        foreach (var layer in plan.Colours)
        {
            var shape = job.Method.ColourInk == InkKind.Sheet ? Visible(job, plan, layer) : layer.Match.Coverage;
            var drawing = PlateDrawing.From(shape, ToneOrNone(job, layer.Match), job.HasTones);
            var purpose =
                layer.Match.Role == LayerRole.HighlightWhite && under is not null
                    ? PlatePurpose.HighlightWhite
                    : PlatePurpose.Spot;
            maker.Add(
                names.Take(layer.Match.Name),
                purpose,
                layer.Ink.Ink,
                layer.Ink,
                drawing,
                shape,
                layer.Ink.OnBase
            );
        }
        if (settings.HighlightWhite && plan.OnBaseScreen is { } seen)
        {
            var drawing = Drawing(job, seen.Match);
            maker.Add(
                names.Take("Highlight white"),
                PlatePurpose.HighlightWhite,
                white,
                seen.Ink,
                drawing,
                seen.Match.Coverage,
                true
            );
        }
        return maker.Make();
    }

    /// <summary>One entry a layer: its colour, its plate, its area.</summary>
    public static ImmutableArray<PaletteEntry> Palette(LayerJob job, LayerPlan plan, ImmutableArray<MadePlate> made) =>
        [
            .. plan.Decision.Inks.Select(ink =>
            {
                var at = made.Select((m, p) => (m, p)).Where(x => x.m.Ink == ink).Select(x => (int?)x.p);
                var colour = plan.Palette[ink.Colours[0]];
                return new PaletteEntry(
                    ink.Wanted,
                    at.FirstOrDefault(),
                    colour.Weight / job.PerMm2,
                    SeparationChecks.Note(colour, ink, job.Grounds)
                );
            }),
        ];

    private static PlateDrawing Drawing(LayerJob job, LayerMatch layer) =>
        PlateDrawing.From(layer.Coverage, ToneOrNone(job, layer), job.HasTones);

    private static BytePlane ToneOrNone(LayerJob job, LayerMatch layer) =>
        job.ToneOf(layer.Layer) ?? new(job.Width, job.Height);

    /// <summary>A base that nobody drew: under the colours that need it, choked, as under spot art.</summary>
    private static PlateDrawing MadeBase(LayerJob job, LayerPlan plan)
    {
        BytePlane Of(IEnumerable<ColourLayer> layers) =>
            PlateDrawing.Sum([.. layers.Select(l => l.Match.Coverage)], job.Width, job.Height);
        var everywhere = plan
            .Colours.Where(l =>
                Enumerable.Range(0, job.Grounds.Length).All(g => l.Ink.Prints[g] || !plan.Decision.Runs[g])
            )
            .ToArray();
        BytePlane[] tones = job.HasTones
            ? [.. plan.Colours.Select(l => job.ToneOf(l.Match.Layer)).OfType<BytePlane>()]
            : [];
        var shares = new ArtShares([], PlateDrawing.Sum(tones, job.Width, job.Height), tones.Length > 0);
        return BaseSolver.Draw(
            Of(plan.Colours.Where(l => l.Ink.OnBase)),
            plan.OnBaseScreen?.Match.Coverage,
            Of(everywhere.Where(l => l.Ink.IsKey)),
            Of(everywhere),
            shares,
            job.Settings,
            job.Art.PixelsPerMm
        );
    }

    private static void AddBlocking(LayerJob job, LayerPlan plan, PlateMaker maker, PlateDrawing? under)
    {
        PlateDrawing? drawing = plan.Blocking is { } drawn ? Drawing(job, drawn) : null;
        if (
            drawing is null
            && job.Settings.BlockingBase
            && plan.Colours.Select(l => l.Ink.Ink).Append(job.Appearance.BaseWhite.Ink).Any(Migration.TakesDye)
        )
        {
            var all =
                under
                ?? new(PlateDrawing.Sum([.. plan.Colours.Select(l => l.Match.Coverage)], job.Width, job.Height), null);
            drawing = all with { Shape = Choke.Yielding(all.Shape, job.Settings.ChokeMm, job.Art.PixelsPerMm) };
        }
        if (drawing is not null)
            maker.Add(
                "Blocking base",
                PlatePurpose.BlockingBase,
                InkLibrary.BlockingBase,
                null,
                drawing,
                drawing.Shape,
                false
            );
    }

    /// <summary>White of a drawn base that no colour covers is white to be seen; a rim of a choke too little is not.</summary>
    private static bool IsSeen(LayerJob job, LayerPlan plan)
    {
        var coverage = plan.Under!.Coverage;
        var over = PlateDrawing.Sum([.. plan.Colours.Select(l => l.Match.Coverage)], job.Width, job.Height);
        return LayerJob.Area(coverage) - LayerJob.Shared(coverage, over) > 0.05 * LayerJob.Area(coverage);
    }

    /// <summary>Sheets hide what lies below: a sheet is what can be seen of it, and how they overlap is the cutter's rule.</summary>
    private static BytePlane Visible(LayerJob job, LayerPlan plan, ColourLayer layer)
    {
        var later = plan.Colours[(plan.Colours.IndexOf(layer) + 1)..];
        if (later.IsEmpty)
            return layer.Match.Coverage;
        var over = PlateDrawing.Sum([.. later.Select(l => l.Match.Coverage)], job.Width, job.Height);
        var seen = new BytePlane(job.Width, job.Height);
        RowLoop.Run(
            job.Height,
            job.Width,
            y =>
            {
                var (from, hidden, to) = (layer.Match.Coverage.Pixels, over.Pixels, seen.Pixels);
                for (var i = y * job.Width; i < (y + 1) * job.Width; i++)
                    to[i] = (byte)Math.Max(0, Math.Min(from[i], 255 - hidden[i]));
            }
        );
        return seen;
    }
}
