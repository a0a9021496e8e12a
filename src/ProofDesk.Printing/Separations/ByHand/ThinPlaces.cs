using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>Strokes of an outline, or gaps in it, that are thinner than a limit: how many millimetres, how thin, where.</summary>
/// <param name="ThinnestMm">Width of the thinnest.</param>
/// <param name="XMm">Where that is, from the print's top left corner.</param>
internal sealed record ThinPlaces(double LengthMm, double ThinnestMm, double XMm, double YMm)
{
    /// <summary>Less than this is a corner or a tip.</summary>
    public const double LeastLengthMm = 2;

    private const double Taper = 0.2;

    /// <summary>Null when there are none worth a word.</summary>
    public static ThinPlaces? Strokes(BytePlane shape, double limitMm, double pixelsPerMm)
    {
        var half = limitMm / 2 * pixelsPerMm;
        var found = Separations.Strokes.Long(
            Separations.Strokes.Find(shape, EdgeDistance.Of(shape, half + 1), half, Taper),
            Math.Max(4, pixelsPerMm)
        );
        if (found.Count < LeastLengthMm * pixelsPerMm)
            return null;
        var thinnest = found.MinBy(p => p.HalfWidth);
        return new(
            found.Count / pixelsPerMm,
            2 * thinnest.HalfWidth / pixelsPerMm,
            (thinnest.X + 0.5) / pixelsPerMm,
            (thinnest.Y + 0.5) / pixelsPerMm
        );
    }

    /// <summary>The same of what lies between the ink; the print's border is no edge of a gap.</summary>
    public static ThinPlaces? Gaps(BytePlane shape, double limitMm, double pixelsPerMm)
    {
        // A margin of blank, or the strip along the border would be a gap.
        var margin = (int)Math.Ceiling(limitMm * pixelsPerMm) + 2;
        var blank = new BytePlane(shape.Width + 2 * margin, shape.Height + 2 * margin);
        blank.Pixels.AsSpan().Fill(255);
        for (var y = 0; y < shape.Height; y++)
        {
            var from = shape.Row(y);
            var to = blank.Row(y + margin).Slice(margin, shape.Width);
            for (var x = 0; x < to.Length; x++)
                to[x] = (byte)(255 - from[x]);
        }
        return Strokes(blank, limitMm, pixelsPerMm) is { } gaps
            ? gaps with
            {
                XMm = gaps.XMm - margin / pixelsPerMm,
                YMm = gaps.YMm - margin / pixelsPerMm,
            }
            : null;
    }
}
