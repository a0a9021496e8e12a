namespace ProofDesk.Printing.Proofs;

/// <summary>
/// The light of the worn picture: one large soft key light from the upper left, a weak fill from the right, light from
/// all around. Flat cloth has shade 1, so that the print's colour there is the colour of the flat picture. The shades are
/// a drawing of volume, not a measurement (common practice of product photography).
/// </summary>
internal static class StudioLight
{
    // Unit vectors towards the lights (x right, y down, z to the viewer).
    private static readonly (double X, double Y, double Z) Key = Unit(-0.46, -0.58, 0.80);
    private static readonly (double X, double Y, double Z) Fill = Unit(0.75, -0.10, 0.66);
    private static readonly double Flat = Diffuse(0, 0, 1);

    /// <summary>Diffuse shade (1 = flat cloth) and the sheen of loose fibres to add, from slopes and prominence.</summary>
    public static (double Shade, double Sheen) Of(double slopeX, double slopeY, double prominenceMm)
    {
        var length = Math.Sqrt(slopeX * slopeX + slopeY * slopeY + 1);
        var (nx, ny, nz) = (-slopeX / length, -slopeY / length, 1 / length);
        var shade = Diffuse(nx, ny, nz) / Flat;
        // Valleys see less of the room.
        shade *= Math.Clamp(1 + 0.045 * prominenceMm, 0.72, 1.06);
        var grazing = (1 - nz) * (1 - nz);
        var glance = Math.Max(0, nx * Key.X + ny * Key.Y + nz * Key.Z);
        return (shade, 0.010 * Math.Pow(glance, 8) * (1 - 0.6 * nz) + 0.03 * grazing);
    }

    private static double Diffuse(double nx, double ny, double nz)
    {
        var key = Math.Max(0, (nx * Key.X + ny * Key.Y + nz * Key.Z + 0.25) / 1.25);
        var fill = Math.Max(0, (nx * Fill.X + ny * Fill.Y + nz * Fill.Z + 0.3) / 1.3);
        return 0.64 * key + 0.16 * fill + 0.22 * (0.45 + 0.55 * nz);
    }

    private static (double X, double Y, double Z) Unit(double x, double y, double z)
    {
        var length = Math.Sqrt(x * x + y * y + z * z);
        return (x / length, y / length, z / length);
    }
}
