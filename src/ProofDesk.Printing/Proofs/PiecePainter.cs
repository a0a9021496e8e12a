using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Proofs;

/// <summary>Colour of one piece of the garment at a point of the drawing, lit.</summary>
internal sealed class PiecePainter(
    GarmentPiece piece,
    GarmentSize size,
    ClothRelief relief,
    ClothWeave weave,
    WornPrint[] prints
)
{
    // Ribs of a collar: 2.2 mm from rib to rib.
    private const double RibPitchMm = 2.2;
    private readonly (double X, double Y) _ribCentre = (0, -size.CollarDropFrontMm);
    private readonly PieceBox _box = PieceBox.Of(piece, size);

    private readonly (double X, double Y)[] _seams = Array.ConvertAll(
        prints,
        p => p.AllOver ? p.Seam : relief.AlongCloth(p.Seam.X, p.Seam.Y)
    );

    public LinearRgb At(double xMm, double yMm)
    {
        var cloth = weave.At(xMm, yMm);
        if (piece.Kind == PieceKind.Inside)
            return Lit(cloth, InsideShade(xMm, yMm), 0);

        var (slopeX, slopeY) = relief.Slope(xMm, yMm);
        var (shade, sheen) = StudioLight.Of(slopeX, slopeY, relief.Prominence(xMm, yMm));
        if (TrimPainter.Paints(piece.Kind))
        {
            var (colour, gloss) = TrimPainter.At(piece.Kind, cloth, _box, xMm, yMm);
            return Lit(colour, shade * gloss, sheen);
        }
        if (piece.Kind == PieceKind.Rib)
            shade *= 0.97 + 0.06 * Math.Cos(2 * Math.PI * AcrossRibs(xMm, yMm) / RibPitchMm);
        var mirrored = new LinearRgb(0, 0, 0);
        for (var i = 0; i < prints.Length; i++)
        {
            (double X, double Y) here = prints[i].AllOver ? (xMm, yMm) : relief.AlongCloth(xMm, yMm);
            var seam = _seams[i];
            var (colour, cover) = prints[i].At(here.X - seam.X, here.Y - seam.Y);
            if (cover <= 0)
                continue;
            cloth = new LinearRgb(
                cloth.R + cover * (colour.R - cloth.R),
                cloth.G + cover * (colour.G - cloth.G),
                cloth.B + cover * (colour.B - cloth.B)
            );
            if (prints[i].Reflection is not { } reflection)
                continue;
            // The drawing's y runs down: cloth that falls towards the bottom leans up.
            var shown = reflection.Shown(Degrees(-slopeX), Degrees(slopeY));
            var specular = prints[i].Specular(here.X - seam.X, here.Y - seam.Y);
            mirrored = new(
                mirrored.R + shown * specular.R,
                mirrored.G + shown * specular.G,
                mirrored.B + shown * specular.B
            );
        }
        var lit = Lit(cloth, shade, sheen);
        return new(lit.R + mirrored.R, lit.G + mirrored.G, lit.B + mirrored.B);
    }

    /// <summary>Mm across the ribs: around the neck for a collar, straight for a band or a cuff.</summary>
    private double AcrossRibs(double xMm, double yMm)
    {
        if (piece.RibDegrees is not { } degrees)
            return Math.Atan2(yMm - _ribCentre.Y, xMm - _ribCentre.X) * size.CollarWidthMm / 2;
        var turn = degrees * Math.PI / 180;
        return xMm * Math.Cos(turn) + yMm * Math.Sin(turn);
    }

    /// <summary>The inside lies deeper and sees less light towards the bottom of the opening and away from its edges.</summary>
    private double InsideShade(double xMm, double yMm)
    {
        var fromMiddle = Math.Clamp((xMm - _box.CentreX) / Math.Max(1e-9, _box.Right - _box.CentreX), -1, 1);
        return 0.64 - 0.22 * _box.Down(yMm) - 0.08 * (1 - fromMiddle * fromMiddle);
    }

    private static double Degrees(double slope) => Math.Atan(slope) * 180 / Math.PI;

    private static LinearRgb Lit(LinearRgb cloth, double shade, double sheen) =>
        new(cloth.R * shade + sheen, cloth.G * shade + sheen, cloth.B * shade + sheen);
}
