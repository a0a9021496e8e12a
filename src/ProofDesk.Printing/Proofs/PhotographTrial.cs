using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments.Photographs;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// A ruled square on a photographed garment: shows scale, light and folds before the garment is accepted. White and mid grey in
/// fields of 20 mm, as no ink is, so that nobody takes it for a print.
/// </summary>
public static class PhotographTrial
{
    public const double SideMm = 200;
    private const double FieldMm = 20;
    private const double FromSeamMm = 80;

    public static RgbPicture Draw(RgbPicture photo, PhotoReading reading) =>
        WornPhotograph.Lay(
            photo,
            reading,
            Srgb.FromLab(reading.Light.Ground),
            [At],
            reading.Scale.PixelsPerMm,
            "A trial square of 200 mm on the photograph: no print"
        );

    private static (LinearRgb Colour, double Cover) At(double xMm, double yMm)
    {
        var (x, y) = (xMm + SideMm / 2, yMm - FromSeamMm);
        if (x < 0 || y < 0 || x > SideMm || y > SideMm)
            return (default, 0);
        var grey = ((int)(x / FieldMm) + (int)(y / FieldMm)) % 2 == 0 ? 0.8 : 0.2;
        return (new(grey, grey, grey), 1);
    }
}
