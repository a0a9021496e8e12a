namespace ProofDesk.Printing.Artworks;

/// <summary>The place in the art that a finding is about: a rectangle from the left and the top of the inked extent.</summary>
public sealed record FindingSpot(double XMm, double YMm, double WidthMm, double HeightMm)
{
    private const double HandMm = 2;

    /// <summary>The rectangle of pixels from the first to the last, both in it.</summary>
    internal static FindingSpot OfPixels(int left, int top, int right, int bottom, double pixelsPerMm) =>
        new(
            Math.Round(left / pixelsPerMm, 2),
            Math.Round(top / pixelsPerMm, 2),
            Math.Round((right - left + 1) / pixelsPerMm, 2),
            Math.Round((bottom - top + 1) / pixelsPerMm, 2)
        );

    /// <summary>A few millimetres around a point.</summary>
    internal static FindingSpot Around(double xMm, double yMm) =>
        new(Math.Round(xMm - HandMm, 2), Math.Round(yMm - HandMm, 2), 2 * HandMm, 2 * HandMm);
}
