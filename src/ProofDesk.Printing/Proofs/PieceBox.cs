using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Proofs;

/// <summary>The box around a piece of the drawing, mm.</summary>
internal readonly record struct PieceBox(double Left, double Top, double Right, double Bottom)
{
    public static PieceBox Of(GarmentPiece piece, GarmentSize size)
    {
        var points = piece.Outline.Flatten(size, 10);
        return new(points.Min(p => p.X), points.Min(p => p.Y), points.Max(p => p.X), points.Max(p => p.Y));
    }

    public double CentreX => (Left + Right) / 2;

    public double CentreY => (Top + Bottom) / 2;

    /// <summary>0 at the top, 1 at the bottom.</summary>
    public double Down(double yMm) => Math.Clamp((yMm - Top) / Math.Max(1e-9, Bottom - Top), 0, 1);
}
