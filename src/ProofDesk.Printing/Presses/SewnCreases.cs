using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Where a finished garment does not lie flat: beside its seams, at its edges and in the folds that run from the
/// underarm. Dye or ink does not reach in there, and when the cloth is pulled straight the places are pale (common
/// practice; the widths are proposals).
/// </summary>
/// <param name="Seam">Along seams.</param>
/// <param name="Edge">Along the edge of the laid garment.</param>
/// <param name="Fold">In folds.</param>
internal sealed record SewnCreases(BareBand Seam, BareBand Edge, BareBand Fold)
{
    /// <summary>Patches in mm from the print's top left corner.</summary>
    public ImmutableArray<BarePatch> On(Garment garment, PrintLay lay, double heightMm, ulong seed)
    {
        if (lay.OnPrint(garment, heightMm) is not { } onPrint || garment.Shape is not { } shape)
            return [];
        var side = lay.Placement.Place.Side();
        var size = garment.Size(lay.Size)!;
        if (shape.View(side) is not { } view)
            return [];
        var patches = ImmutableArray.CreateBuilder<BarePatch>();
        var number = 0UL;
        void Add(BareBand band, IEnumerable<(double X, double Y)> line, bool tapered) =>
            patches.AddRange(band.Along([.. line.Select(onPrint)], tapered, seed ^ 0xC4EA_5E00UL ^ (++number << 40)));

        foreach (var seam in shape.SeamLines(size, side))
            Add(Seam, seam.Points, false);
        var outline = shape.PanelOutline(size, side);
        Add(Edge, outline.Append(outline[0]), false);
        // Folds further down lie flat under the press: what cannot be pulled out runs from the sleeves and the underarm.
        var below = 0.5 * size.LengthMm;
        foreach (var line in view.Folds.Select(f => f.Line.Flatten(size, 2)).Where(line => line[0].Y < below))
            Add(Fold, line, true);
        return patches.ToImmutable();
    }
}
