using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Proofs;

/// <summary>Zips, drawcords and metal: a drawing of what the garment has on it, no measured colours.</summary>
internal static class TrimPainter
{
    private const double ToothPitchMm = 2.6;
    private const double TeethHalfMm = 2.6;
    private const double TwistPitchMm = 4.2;

    // Y of L* 62: darker than pale cloth, lighter than dark cloth.
    private static readonly LinearRgb Grey = new(0.30, 0.30, 0.305);

    public static bool Paints(PieceKind kind) => kind is PieceKind.Zip or PieceKind.Cord or PieceKind.Metal;

    /// <summary>Colour of the trim and how bright it is next to cloth that lies the same way.</summary>
    public static (LinearRgb Colour, double Gloss) At(
        PieceKind kind,
        LinearRgb cloth,
        PieceBox box,
        double xMm,
        double yMm
    ) =>
        kind switch
        {
            PieceKind.Zip => Zip(cloth, xMm - box.CentreX, yMm),
            PieceKind.Metal => (
                Grey,
                1
                    + 0.5
                        * Math.Clamp(
                            ((box.CentreX - xMm) + (box.CentreY - yMm)) / Math.Max(2, box.Right - box.Left),
                            -1,
                            1.6
                        )
            ),
            _ => (cloth, 1.02 + 0.16 * Math.Cos(2 * Math.PI * (yMm + 0.9 * xMm) / TwistPitchMm)),
        };

    /// <summary>Two tapes a little darker than the cloth, teeth of both sides by turns in the middle.</summary>
    private static (LinearRgb Colour, double Gloss) Zip(LinearRgb cloth, double dx, double yMm)
    {
        if (Math.Abs(dx) > TeethHalfMm)
            return (cloth, 0.80 + 0.03 * Math.Cos(2 * Math.PI * dx / 1.5));
        var phase = yMm / ToothPitchMm + (dx < 0 ? 0 : 0.5);
        var tooth = 0.5 + 0.5 * Math.Cos(2 * Math.PI * phase);
        return (Grey, 0.55 + 0.75 * tooth * (1 - 0.35 * Math.Abs(dx) / TeethHalfMm));
    }
}
