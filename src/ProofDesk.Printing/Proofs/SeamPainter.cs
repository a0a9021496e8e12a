using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Proofs;

/// <summary>Seams: a groove with a lit lip, and rows of stitches of 3 mm with 1 mm between them.</summary>
internal static class SeamPainter
{
    private const double RowsApartMm = 6;
    private const double StitchMm = 3;
    private const double GapMm = 1;

    public static void Draw(
        LinearCanvas canvas,
        GarmentSeam seam,
        GarmentSize size,
        double leftMm,
        double topMm,
        double pixelsPerMm,
        LinearRgb cloth
    )
    {
        var line = seam.Line.Flatten(size, 1);
        var length = 0.0;
        for (var i = 1; i < line.Length; i++)
            length += Math.Sqrt(Math.Pow(line[i].X - line[i - 1].X, 2) + Math.Pow(line[i].Y - line[i - 1].Y, 2));
        // Dark thread must still be seen on dark cloth and pale thread on pale cloth.
        var thread = 0.18 * Math.Pow(0.2126 * cloth.R + 0.7152 * cloth.G + 0.0722 * cloth.B, 0.5);
        canvas.AlongLine(
            line,
            leftMm,
            topMm,
            pixelsPerMm,
            reachMm: RowsApartMm + 2,
            (distance, along, colour) =>
            {
                var factor = 1.0;
                var add = 0.0;
                if (seam.Stitches == 0)
                {
                    factor =
                        1
                        - 0.34 * Math.Exp(-Math.Pow(distance / 1.1, 2))
                        + 0.09 * Math.Exp(-Math.Pow((distance - 2.4) / 1.6, 2));
                }
                for (var row = 0; row < seam.Stitches; row++)
                {
                    var d = distance - (row - (seam.Stitches - 1) / 2.0) * RowsApartMm;
                    var phase = along * length % (StitchMm + GapMm);
                    var stitch = phase < StitchMm ? Math.Exp(-Math.Pow(d / 0.55, 2)) : 0;
                    factor *= 1 - 0.20 * Math.Exp(-Math.Pow(d / 1.3, 2));
                    add += 0.16 * thread * stitch;
                }
                return new LinearRgb(colour.R * factor + add, colour.G * factor + add, colour.B * factor + add);
            }
        );
    }
}
