using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>A layer with a plate of its own among the colours.</summary>
/// <param name="Ink">Its ink, knowing on which grounds it prints.</param>
internal sealed record ColourLayer(LayerMatch Match, ArtInk Ink);

/// <summary>
/// Which layers become plates and what runs under them.
/// </summary>
/// <param name="Under">The base as drawn, of white or of discharge; null when none was drawn or none may run.</param>
/// <param name="Blocking">The blocking base as drawn.</param>
/// <param name="Colours">All others, the first printed first; the art's white as well when it has a plate of its own.</param>
/// <param name="OnBaseScreen">The art's white, when the screen of the base prints it; it is among the inks of the decision.</param>
/// <param name="Palette">One colour a layer, in the order of the inks of <paramref name="Decision"/>.</param>
internal sealed record LayerPlan(
    LayerMatch? Under,
    LayerMatch? Blocking,
    ImmutableArray<ColourLayer> Colours,
    ColourLayer? OnBaseScreen,
    BaseDecision Decision,
    ImmutableArray<PaletteColour> Palette,
    ImmutableArray<Finding> Findings
)
{
    /// <summary>Share of a white layer that others cover from which on it is the base: white to be seen is left free.</summary>
    private const double CoveredIsBase = 0.2;

    /// <summary>Share of a layer that lies on others: then it is drawn on top of them, and not beside them.</summary>
    private const double LiesOn = 0.1;

    /// <summary>A layer that much on a drawn base lies on it.</summary>
    private const double OnDrawnBase = 0.5;

    public static LayerPlan Of(LayerJob job, ImmutableArray<LayerMatch> matches)
    {
        var findings = new List<Finding>();
        var layers = matches.Select((m, i) => Meant(job, m, matches[(i + 1)..])).ToArray();
        var (under, blocking) = (Drawn(job, layers, findings), Blocker(job, layers, findings));
        LayerMatch[] colours = [.. layers.Where(l => !l.IsUnder)];
        var palette = colours.Select(l => job.PaletteOf(l)).ToImmutableArray();
        var inks = colours.Select((l, i) => Ink(job, l, i, palette[i], colours[..i], under)).ToImmutableArray();
        // White that lies on other layers, or on a base that was drawn, stays the plate it was drawn as.
        var own = colours.Select((l, i) => !inks[i].IsWhite || IsOnOthers(job, l, colours[..i], under)).ToArray();
        var made = BaseDecision.Make(
            [.. inks.Where((_, i) => own[i] && !inks[i].IsWhite || !own[i])],
            job.Grounds,
            job.Settings,
            job.Appearance,
            job.Mesh
        );
        var decision = under is null ? WithOwnWhites(job, made, inks) : OnDrawn(job, under, made, inks);
        var all = colours.Select((l, i) => new ColourLayer(l, decision.Inks.Single(k => k.Colours[0] == i))).ToArray();
        var shared = decision.CarriesWhite ? all.Where((_, i) => !own[i]).FirstOrDefault() : null;
        if (under is not null)
            findings.Add(LayerFindings.BaseAsDrawn(job, under, layers, decision));
        else if (decision.Exists)
            findings.Add(LayerFindings.BaseMade(job, decision));
        if (shared is not null)
            findings.Add(LayerFindings.WhiteOnBaseScreen(shared.Match));
        return new(under, blocking, [.. all.Where(l => l != shared)], shared, decision, palette, [.. findings]);
    }

    /// <summary>What the drawing says where the name leaves it open: white under other layers is a base.</summary>
    private static LayerMatch Meant(LayerJob job, LayerMatch match, ImmutableArray<LayerMatch> later)
    {
        if (match.Role != LayerRole.White || !job.Method.Rules.HasBase)
            return match;
        var over = PlateDrawing.Sum([.. later.Where(l => !l.IsUnder).Select(l => l.Coverage)], job.Width, job.Height);
        return LayerJob.Shared(match.Coverage, over) > CoveredIsBase * LayerJob.Area(match.Coverage)
            ? match with
            {
                Role = LayerRole.Base,
            }
            : match;
    }

    private static LayerMatch? Drawn(LayerJob job, LayerMatch[] layers, List<Finding> findings)
    {
        LayerMatch[] bases = [.. layers.Where(l => l.Role is LayerRole.Base or LayerRole.DischargeBase)];
        if (bases.Length == 0)
            return null;
        if (job.Settings.Base == BaseChoice.None)
        {
            findings.AddRange(bases.Select(b => LayerFindings.LeftOut(job, b)));
            return null;
        }
        findings.AddRange(bases.Skip(1).Select(b => LayerFindings.SecondBase(b, bases[0])));
        return bases[0];
    }

    private static LayerMatch? Blocker(LayerJob job, LayerMatch[] layers, List<Finding> findings)
    {
        var blocking = layers.FirstOrDefault(l => l.Role == LayerRole.BlockingBase);
        if (blocking is null || Dyes.Migration.TakesDye(job.Appearance.BaseWhite.Ink))
            return blocking;
        findings.Add(LayerFindings.LeftOut(job, blocking));
        return null;
    }

    private static bool IsOnOthers(LayerJob job, LayerMatch layer, LayerMatch[] earlier, LayerMatch? under)
    {
        var below = earlier.Select(e => e.Coverage).ToList();
        if (under is not null)
            below.Add(under.Coverage);
        return layer.Role == LayerRole.HighlightWhite
            || LayerJob.Shared(layer.Coverage, PlateDrawing.Sum(below, job.Width, job.Height))
                > LiesOn * LayerJob.Area(layer.Coverage);
    }

    private static ArtInk Ink(
        LayerJob job,
        LayerMatch layer,
        int index,
        PaletteColour colour,
        LayerMatch[] earlier,
        LayerMatch? under
    )
    {
        var wanted = Srgb.ToLab(colour.Linear);
        // On other layers the cloth cannot show instead of it: they would.
        var below = PlateDrawing.Sum([.. earlier.Select(e => e.Coverage)], job.Width, job.Height);
        var mustPrint =
            layer.Role == LayerRole.HighlightWhite
            || LayerJob.Shared(layer.Coverage, below) > LiesOn * LayerJob.Area(layer.Coverage);
        var prints = job
            .Grounds.Select(g =>
                !ClothShows.On(colour, wanted, job.Appearance.Cloth(g), job.Settings)
                || mustPrint && !job.Settings.ClothShows.ContainsValue(true)
            )
            .ToImmutableArray();
        if (job.Settings.IsAlikeOnAllGrounds && prints.Contains(true))
            prints = [.. prints.Select(_ => true)];
        var isWhite = layer.Ink.Role == InkRole.White && job.Appearance.BaseIsWhite;
        return new(
            layer.Ink,
            layer.Name,
            [index],
            wanted,
            colour.Weight,
            prints,
            [
                .. job.Grounds.Select(
                    (g, i) => !prints[i] || isWhite ? 0 : job.Appearance.GainOfBase(g, layer.Ink, job.Mesh, wanted)
                ),
            ],
            [],
            under is not null
                && LayerJob.Shared(layer.Coverage, under.Coverage) > OnDrawnBase * LayerJob.Area(layer.Coverage)
        );
    }

    /// <summary>Whites with a plate of their own print on whatever lies there; how they look is white on the base.</summary>
    private static BaseDecision WithOwnWhites(LayerJob job, BaseDecision made, ImmutableArray<ArtInk> inks)
    {
        var known = made.Inks.ToDictionary(i => i.Colours[0]);
        return made with
        {
            Inks = [.. inks.Select((ink, i) => known.GetValueOrDefault(i) ?? Seen(job, ink, made.Exists, made.Runs))],
        };
    }

    /// <summary>A base that was drawn runs wherever cloth is not pale, under whatever it was drawn under.</summary>
    private static BaseDecision OnDrawn(LayerJob job, LayerMatch under, BaseDecision auto, ImmutableArray<ArtInk> inks)
    {
        var pale = job.Grounds.Select(g => ClothShows.IsPale(job.Appearance.Cloth(g))).ToArray();
        var discharge = job.Settings.Base == BaseChoice.Discharge;
        var runs = job
            .Grounds.Select(
                (g, i) =>
                    job.Settings.Base == BaseChoice.White
                    || !pale[i] && (!discharge || Dyes.Discharge.Reaches(g.Colour))
            )
            .ToImmutableArray();
        return new(
            [.. inks.Select(ink => Seen(job, ink, ink.OnBase, runs))],
            true,
            false,
            runs,
            [
                .. job.Grounds.Select(
                    (g, i) =>
                        runs[i] ? $"the layer \"{under.Layer.Name}\", as it was drawn"
                        : pale[i]
                            ? $"rests on {g.Colour.Name.ToLowerInvariant()}: the cloth is pale enough to be the base"
                        : auto.Reasons[i]
                ),
            ]
        );
    }

    private static ArtInk Seen(LayerJob job, ArtInk ink, bool onBase, ImmutableArray<bool> runs) =>
        ink with
        {
            OnBase = onBase,
            Printed = [.. job.Grounds.Select((g, i) => job.Appearance.Of(g, ink.Ink, job.Mesh, onBase && runs[i]))],
        };
}
