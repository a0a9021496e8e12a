using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>What is said about layers and the inks and bases they became.</summary>
internal static class LayerFindings
{
    public static Finding Matched(LayerMatch match) =>
        new(
            "layer-ink",
            match.IsSure ? FindingWeight.Note : FindingWeight.Warning,
            $"the layer \"{match.Layer.Name}\" prints in {match.Ink.Name}: {match.How}",
            match.IsSure
                ? "nothing, or name the layer as the ink that is meant"
                : "name the layer as the ink that is meant, or list the inks of the job"
        );

    public static Finding NoInk(ArtLayer layer, PrintMethod method, SpotSettings settings)
    {
        var shelf = settings.Inks.Inks.IsEmpty ? InkLibrary.OfKind(method.ColourInk) : settings.Inks.Inks;
        return new(
            "layer-without-ink",
            FindingWeight.Refusal,
            $"nothing says which ink the layer \"{layer.Name}\" prints in: its name is no ink of {(settings.Inks.Inks.IsEmpty ? method.Id : "the list")}, and the file shows it in no colour",
            $"name it as one of these: {string.Join(", ", shelf.Select(i => i.Name))}"
        );
    }

    public static Finding BaseAsDrawn(
        LayerJob job,
        LayerMatch under,
        IReadOnlyList<LayerMatch> layers,
        BaseDecision decision
    )
    {
        var what = under.Role == LayerRole.DischargeBase ? "discharge base" : "base";
        var why = LayerNames.Role(under.Layer.Name) == LayerRole.White ? ", because other layers lie on it," : "";
        var first = layers[0] == under ? "" : " and runs first, whatever its place in the file";
        var runs = Names(job, decision, true);
        var rests = Names(job, decision, false);
        return new(
            "layer-is-base",
            FindingWeight.Note,
            $"the layer \"{under.Layer.Name}\" is the {what}{why} as it was drawn, without a choke of ours{first}: it {(runs.Length == 0 ? "" : $"runs on {runs}")}{(runs.Length > 0 && rests.Length > 0 ? ", " : "")}{(rests.Length == 0 ? "" : $"rests on {rests}")}",
            "nothing, or leave the layer out to have the base made from the others"
        );
    }

    public static Finding BaseMade(LayerJob job, BaseDecision decision)
    {
        var (on, of) = (decision.Inks.Count(i => i.OnBase), decision.Inks.Length);
        return new(
            "base-made-for-layers",
            FindingWeight.Note,
            Text(
                $"no layer is a base and {Names(job, decision, true)} needs one: it is made under {on} of {of} layers, {job.Settings.ChokeMm:0.00} mm inside them"
            ),
            "nothing, or draw it as a layer called base, or print without one",
            Math.Round(job.Settings.ChokeMm, 2),
            null,
            "mm"
        );
    }

    public static Finding WhiteOnBaseScreen(LayerMatch white) =>
        new(
            "layer-on-base-screen",
            FindingWeight.Note,
            $"the layer \"{white.Layer.Name}\" lies beside the others, so the screen of the base prints it with the base: a screen less",
            "nothing, or call it highlight white to have a screen of its own on top"
        );

    public static Finding LeftOut(LayerJob job, LayerMatch layer) =>
        new(
            "layer-left-out",
            FindingWeight.Warning,
            $"the layer \"{layer.Layer.Name}\" is left out: {(layer.Role == LayerRole.BlockingBase ? $"a blocking base goes under plastisol, not under {job.Method.Id}" : job.Method.Rules.HasBase ? "no base was asked for" : $"{job.Method.Id} has no base")}",
            job.Method.Rules.HasBase
                ? "nothing, or let the base be chosen for the cloth"
                : "nothing, or name the layer as the ink that is meant"
        );

    public static Finding SecondBase(LayerMatch second, LayerMatch first) =>
        new(
            "layer-left-out",
            FindingWeight.Warning,
            $"the layer \"{second.Layer.Name}\" is left out: \"{first.Layer.Name}\" is the base, and one screen of base runs",
            "draw both as one layer, or name the second highlight white if it is to run on top"
        );

    private static string Names(LayerJob job, BaseDecision decision, bool runs) =>
        string.Join(
            ", ",
            job.Grounds.Where((_, g) => decision.Runs[g] == runs).Select(g => g.Colour.Name.ToLowerInvariant())
        );
}
