using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>
/// Mixed art: what stands flat prints solid in an ink of its own, sharp at film resolution, the painted rest in tones.
/// Where nothing stands flat this is <see cref="TonalSeparator"/> alone.
/// </summary>
internal static class MixedSeparator
{
    /// <summary>The flat part of the art; empty where the shop wants everything toned.</summary>
    public static FlatArt FlatOf(SizedArt art, SpotSettings settings) =>
        settings.FlatAreas == FlatAreas.Toned ? FlatArt.None : FlatFinder.Find(art);

    /// <summary>Colours of the painted part, or of all of it where hardly anything is painted.</summary>
    public static ImmutableArray<ToneShare> Tones(SizedArt art, FlatArt flat)
    {
        if (flat.IsEmpty)
            return ToneHistogram.Of(art.Pixels);
        var rest = ToneHistogram.Of(PaintedRest.Without(art.Pixels, Sum(flat, art.Pixels)));
        return rest.IsEmpty ? ToneHistogram.Of(art.Pixels) : rest;
    }

    /// <param name="together">Colours that may print on each other for one flat colour.</param>
    public static Separation Separate(
        SizedArt art,
        TonalJob job,
        FlatArt flat,
        int together,
        double nearEnough,
        IEnumerable<Finding> findings
    )
    {
        findings = [.. findings, .. DrawnChecks.Of(art, job, flat)];
        if (flat.IsEmpty)
            return TonalSeparator.Separate(art, job, ToneHistogram.Of(art.Pixels), findings);
        var inks = SolidInks.Of(flat, job, together, nearEnough);
        var toned = flat.Only(i => inks[i] is null);
        var solid = flat.Only(i => inks[i] is not null);
        ImmutableArray<SolidInk> kept = [.. inks.OfType<SolidInk>()];
        var said = findings.Concat(MixedChecks.Of(job, solid, kept, toned));
        if (solid.IsEmpty)
            return TonalSeparator.Separate(art, job, ToneHistogram.Of(art.Pixels), said);
        var all = Sum(solid, art.Pixels);
        var rest = PaintedRest.Without(art.Pixels, all);
        var tones = ToneHistogram.Of(rest);
        PaintedRest.Extend(rest, all);
        PaintedRest.LeaveToCloth(rest, Sum(solid.Only(i => kept[i].IsCloth), art.Pixels));
        var painted = TonalSeparator.Separate(art with { Pixels = rest }, job, tones, said);
        return painted with
        {
            Plates = new SolidPlates(job, art.PixelsPerMm, rest, solid, kept, all).On(painted.Plates),
        };
    }

    private static BytePlane Sum(FlatArt flat, RgbaRaster art) =>
        flat.IsEmpty ? new(art.Width, art.Height) : PlateDrawing.Sum(flat.Shares, art.Width, art.Height);
}
