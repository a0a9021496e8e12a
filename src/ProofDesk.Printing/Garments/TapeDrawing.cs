using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Garments;

/// <summary>A measured line of a drawing.</summary>
public sealed record TapeLine((double X, double Y) From, (double X, double Y) To, double Mm);

/// <summary>
/// What somebody at the press needs to lay a print: the outline of one side of the garment, where the ink lies, the tape from the
/// seam, the tape from the centre line. Millimetres as in the garment's own drawing: x to the right of the picture, y down.
/// </summary>
/// <param name="Ink">the four corners of the inked extent, its upper left first, in the print's own upright</param>
/// <param name="CentreLine">the line the second tape starts from</param>
/// <param name="FromCentre">null for a print that is centred</param>
public sealed record TapeDrawing(
    string Size,
    GarmentSide Side,
    ImmutableArray<ImmutableArray<(double X, double Y)>> Outlines,
    ImmutableArray<ImmutableArray<(double X, double Y)>> Seams,
    ImmutableArray<(double X, double Y)> Ink,
    TapeLine FromSeam,
    TapeLine? FromCentre,
    TapeLine Across,
    TapeLine CentreLine
)
{
    /// <summary>The smallest upright frame around everything drawn.</summary>
    public (double Left, double Top, double Right, double Bottom) Frame
    {
        get
        {
            var all = Outlines.SelectMany(o => o).Concat(Ink).Append(FromSeam.From).Append(FromSeam.To).ToArray();
            return (all.Min(p => p.X), all.Min(p => p.Y), all.Max(p => p.X), all.Max(p => p.Y));
        }
    }

    /// <summary>Null when the garment has no drawing or not this place.</summary>
    /// <param name="size">falls back to the middle size of the garment</param>
    public static TapeDrawing? Of(Garment garment, string size, Placement placement, double heightMm)
    {
        if (garment.Shape is not { } shape || shape.Anchor(placement.Place) is not { } anchor)
            return null;
        if (shape.View(anchor.Side) is null)
            return null;
        var graded = garment.SizeOrMiddle(size);
        var ink = PrintRectangle.Of(placement, heightMm, anchor, graded);
        var middle = (ink.Left + ink.Right) / 2;
        var (near, half) = (anchor.Up ? ink.Bottom : ink.Top, (ink.Top + ink.Bottom) / 2);
        return new(
            graded.Size,
            anchor.Side,
            [.. shape.Panels(graded, anchor.Side).Select(p => p.Outline)],
            [.. shape.SeamLines(graded, anchor.Side).Select(s => s.Points)],
            [
                On(ink, ink.Left, ink.Top),
                On(ink, ink.Right, ink.Top),
                On(ink, ink.Right, ink.Bottom),
                On(ink, ink.Left, ink.Bottom),
            ],
            new(On(ink, 0, 0), On(ink, 0, near), placement.FromSeamMm),
            middle == 0 ? null : new(On(ink, 0, half), On(ink, middle, half), Math.Abs(placement.FromCentreMm)),
            new(On(ink, ink.Left, ink.Top), On(ink, ink.Right, ink.Top), placement.WidthMm),
            new(On(ink, 0, 0), On(ink, 0, anchor.Up ? ink.Top : ink.Bottom), heightMm + placement.FromSeamMm)
        );
    }

    // The turn of PrintRectangle.Own the other way round.
    private static (double X, double Y) On(PrintRectangle print, double x, double y) =>
        (print.SeamX + print.Cos * x - print.Sin * y, print.SeamY + print.Sin * x + print.Cos * y);
}
