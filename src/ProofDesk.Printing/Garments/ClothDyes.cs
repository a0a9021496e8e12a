using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Garments;

/// <summary>
/// Divides the K/S that dyeing added to a cloth among the dyes the garment file names: in each band in proportion to
/// strength times shape. The parts add up to the whole whatever the dyes are, so naming dyes never moves the colour of
/// the cloth. Which dye absorbs where is assumed with the spectrum (a proposal).
/// </summary>
public static class ClothDyes
{
    /// <summary>The dyes of the cellulose (or, <paramref name="onPolyester"/>, of the polyester) of a colour.</summary>
    public static ImmutableArray<DyePart> Of(GarmentColour colour, Spectrum fibre, bool onPolyester = false) =>
        Divide(
            DyeKs(fibre, onPolyester),
            [.. colour.Dyes.Where(d => d.Dye.OnPolyester == onPolyester && d.Strength > 0)]
        );

    /// <summary>Several dyes that together have the given K/S.</summary>
    public static ImmutableArray<DyePart> Divide(Spectrum ks, ImmutableArray<DyeShare> dyes)
    {
        var strengths = Spectrum.Flat(0);
        foreach (var dye in dyes)
            strengths = Spectrum.Combine(strengths, dye.Dye.KsShape, (sum, shape) => sum + dye.Strength * shape);
        return
        [
            .. dyes.Select(dye =>
            {
                var part = Spectrum.Combine(dye.Dye.KsShape, strengths, (shape, sum) => dye.Strength * shape / sum);
                return new DyePart(dye.Dye, Spectrum.Combine(part, ks, (p, whole) => p * whole), dye.ResidualShare);
            }),
        ];
    }

    // What dyeing added to the undyed fibre, never negative.
    private static Spectrum DyeKs(Spectrum fibre, bool polyester) =>
        Spectrum.Combine(
            fibre,
            polyester ? ClothSpectra.WhitePolyester() : ClothSpectra.UndyedCotton(),
            (r, undyed) => Math.Max(0, KubelkaMunk.Ks(Math.Clamp(r, 1e-4, 1)) - KubelkaMunk.Ks(undyed))
        );
}
