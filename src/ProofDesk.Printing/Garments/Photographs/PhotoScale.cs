namespace ProofDesk.Printing.Garments.Photographs;

/// <summary>
/// Millimetres of a photograph: one scale for the whole picture, from the tapes, and an upright, from the centre line.
/// Perspective is not corrected; how far two tapes disagree says how much of it there is.
/// </summary>
/// <param name="PixelsPerMm">Both tapes together, each by its length.</param>
/// <param name="DisagreementPercent">Between the two tapes; null when there is one.</param>
public sealed record PhotoScale(
    double PixelsPerMm,
    double? DisagreementPercent,
    PhotoPoint Seam,
    double DownX,
    double DownY
)
{
    public static PhotoScale Of(PhotoMarks marks)
    {
        var (tape, check) = (marks.Tape, marks.Check);
        var both = check is null ? tape.PixelsPerMm : (tape.Pixels + check.Pixels) / (tape.Mm + check.Mm);
        double? apart = check is null ? null : 100 * Math.Abs(tape.PixelsPerMm - check.PixelsPerMm) / both;
        var length = marks.Seam.To(marks.Down);
        return new(
            both,
            apart,
            marks.Seam,
            (marks.Down.X - marks.Seam.X) / length,
            (marks.Down.Y - marks.Seam.Y) / length
        );
    }

    /// <summary>How far the garment's centre line leans from upright, degrees, clockwise as seen.</summary>
    public double LeanDegrees => Math.Atan2(-DownX, DownY) * 180 / Math.PI;

    /// <summary>A direction of the picture, along the garment: x to its right as seen, y down its centre line.</summary>
    public (double X, double Y) Along(double x, double y) => (x * DownY - y * DownX, x * DownX + y * DownY);

    /// <summary>Millimetres from the collar seam.</summary>
    public (double X, double Y) ToMm(PhotoPoint p)
    {
        var (x, y) = Along(p.X - Seam.X, p.Y - Seam.Y);
        return (x / PixelsPerMm, y / PixelsPerMm);
    }

    public PhotoPoint ToPixels(double xMm, double yMm) =>
        new(Seam.X + PixelsPerMm * (xMm * DownY + yMm * DownX), Seam.Y + PixelsPerMm * (-xMm * DownX + yMm * DownY));
}
