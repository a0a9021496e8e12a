using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Garments;

/// <summary>Where a print lies on a garment of one size: what tells which seams and creases are under it.</summary>
public sealed record PrintLay(Placement Placement, string Size)
{
    /// <summary>
    /// From a point of the drawing of the print's side to mm from the print's top left corner; null when the garment has
    /// no drawing, place or size of that name.
    /// </summary>
    public Func<(double X, double Y), (double X, double Y)>? OnPrint(Garment garment, double heightMm)
    {
        if (garment.Size(Size) is not { } size || garment.Shape?.Anchor(Placement.Place) is not { } anchor)
            return null;
        var print = PrintRectangle.Of(Placement, heightMm, anchor, size);
        return point =>
        {
            var (x, y) = print.Own(point);
            return (x - print.Left, y - print.Top);
        };
    }
}
