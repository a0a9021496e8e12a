using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Proofs;

/// <summary>A print and where it sits.</summary>
public sealed record PlacedPrint(PrintedCloth Cloth, Placement Placement);

/// <summary>
/// The worn picture: the garment in its size and colour, lying as cloth lies, with prints bent by the same relief and
/// lit by the same light. Surround is a neutral grey of L* 50, so that it flatters neither dark nor pale cloth.
/// </summary>
public static class WornGarment
{
    /// <summary>Resolution of the usual picture.</summary>
    public const double UsualPixelsPerMm = 2;

    private const double BorderMm = 30;
    private const double SurroundLinear = 0.1842; // Y of L* 50

    /// <summary>The side of the garment a place is on.</summary>
    public static GarmentSide SideOf(Place place) => place.Side();

    /// <summary>Draws one side of a garment with its prints.</summary>
    /// <param name="ground">Garment and colour; the garment must have a drawing.</param>
    /// <param name="sizeName">Size to draw, e.g. "L".</param>
    /// <param name="side">Prints whose place is on the other side are left out.</param>
    /// <param name="prints">Prints on this ground.</param>
    /// <param name="pixelsPerMm">Resolution, 0.5 to 10.</param>
    /// <param name="seed">Seed of fibres and waves.</param>
    /// <exception cref="ArgumentException">No drawing, unknown size, or a place the garment does not have.</exception>
    public static RgbPicture Draw(
        Ground ground,
        string sizeName,
        GarmentSide side,
        ImmutableArray<PlacedPrint> prints,
        ViewingLight light,
        double pixelsPerMm,
        ulong seed
    )
    {
        var garment = ground.Garment;
        var size =
            garment.Size(sizeName)
            ?? throw new ArgumentException(
                $"{garment.Name} has no size {sizeName}; it has {string.Join(", ", garment.Sizes.Select(s => s.Size))}"
            );
        var view =
            garment.Shape?.View(side)
            ?? throw new ArgumentException(
                $"{garment.Name} has no drawing of its {side.ToString().ToLowerInvariant()}"
            );
        if (view.Photograph is { } photograph)
            return WornPhotograph.Draw(ground, side, size, photograph, prints, light, pixelsPerMm);
        var (left, top, width, height) = Extent(view, size);
        var (w, h) = ((int)Math.Ceiling(width * pixelsPerMm), (int)Math.Ceiling(height * pixelsPerMm));

        var relief = ClothRelief.Of(view, size, left, top, width, height, seed);
        var weave = new ClothWeave(ground, light, pixelsPerMm, seed);
        var worn = prints
            .Where(p => SideOf(p.Placement.Place) == side)
            .Select(p => new WornPrint(p.Cloth, p.Placement, AnchorOf(garment, p.Placement.Place), size, pixelsPerMm))
            .ToArray();
        var canvas = new LinearCanvas(w, h, SurroundLinear);
        var masks = view.Pieces.Select(p => MaskOf(p, size, left, top, pixelsPerMm, w, h)).ToArray();
        canvas.DropShadow(
            masks,
            offsetX: 5 * pixelsPerMm,
            offsetY: 9 * pixelsPerMm,
            sigma: 11 * pixelsPerMm,
            depth: 0.42
        );

        for (var i = 0; i < masks.Length; i++)
        {
            var piece = view.Pieces[i];
            if (i > 0 && piece.Kind != PieceKind.Inside)
                canvas.Contact(masks[i], sigma: 2.2 * pixelsPerMm, depth: 0.22, onlyOn: masks.AsSpan(0, i).ToArray());
            var painter = new PiecePainter(piece, size, relief, weave, PrintsOn(piece, worn));
            canvas.Paint(masks[i], (x, y) => painter.At(left + (x + 0.5) / pixelsPerMm, top + (y + 0.5) / pixelsPerMm));
        }
        foreach (var seam in view.Seams)
            SeamPainter.Draw(canvas, seam, size, left, top, pixelsPerMm, BareCloth.Linear(ground, light));
        return canvas.Encode(pixelsPerMm);
    }

    /// <summary>Ribs and trim are only reached by a print that covers the whole side.</summary>
    private static WornPrint[] PrintsOn(GarmentPiece piece, WornPrint[] prints) =>
        piece.Kind switch
        {
            PieceKind.Cloth => prints,
            PieceKind.Rib => [.. prints.Where(p => p.AllOver)],
            _ => [],
        };

    private static PlaceAnchor AnchorOf(Garment garment, Place place) =>
        garment.Shape?.Anchor(place)
        ?? throw new ArgumentException($"{garment.Name} has no place {place} in its drawing");

    private static (double Left, double Top, double Width, double Height) Extent(GarmentView view, GarmentSize size)
    {
        var points = view.Pieces.SelectMany(p => p.Outline.Flatten(size, 10)).ToArray();
        // Symmetric about the centre line, so that the collar seam is in the middle of the picture.
        var half = points.Max(p => Math.Abs(p.X)) + BorderMm;
        var top = points.Min(p => p.Y) - BorderMm;
        return (-half, top, 2 * half, points.Max(p => p.Y) + BorderMm + 6 - top);
    }

    private static BytePlane MaskOf(
        GarmentPiece piece,
        GarmentSize size,
        double left,
        double top,
        double pixelsPerMm,
        int w,
        int h
    )
    {
        var mask = new BytePlane(w, h);
        PolygonFill.Fill(
            mask,
            [
                [
                    .. piece
                        .Outline.Flatten(size, 2)
                        .Select(p => ((p.X - left) * pixelsPerMm, (p.Y - top) * pixelsPerMm)),
                ],
            ]
        );
        return mask;
    }
}
