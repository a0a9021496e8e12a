using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Separations;

/// <summary>
/// Colours that nobody prints because the cloth already has them: white on pale cloth, near-black on black cloth
/// (common practice). Always said in the findings and changeable per colour.
/// </summary>
internal static class ClothShows
{
    public static bool IsWhite(Lab colour) => colour is { L: > 90, Chroma: < 8 };

    public static bool IsNearBlack(Lab colour) => colour is { L: < 22, Chroma: < 10 };

    /// <summary>Cloth that is as good as a base: white and cream. No shop burns a base for it (common practice).</summary>
    public static bool IsPale(Lab cloth) => cloth is { L: > 84, Chroma: < 16 };

    /// <summary>The default, before the shop's own choice.</summary>
    public static bool ByDefault(Lab colour, Lab cloth) =>
        IsWhite(colour) && IsPale(cloth) || IsNearBlack(colour) && cloth.L < 26 && cloth.Chroma < 10;

    public static bool On(PaletteColour colour, Lab wanted, Lab cloth, SpotSettings settings)
    {
        foreach (var (hex, shows) in settings.ClothShows)
            if (Hex(hex) is { } named && colour.DistanceTo(ColourHistogram.Seen(named)) < 0.08)
                return shows;
        return !settings.IsOnPrint && ByDefault(wanted, cloth);
    }

    /// <summary>Linear light of "#rrggbb"; null for anything else.</summary>
    public static LinearRgb? Hex(string hex) =>
        hex.Length == 7
        && hex[0] == '#'
        && int.TryParse(
            hex.AsSpan(1),
            System.Globalization.NumberStyles.AllowHexSpecifier,
            System.Globalization.CultureInfo.InvariantCulture,
            out var rgb
        )
            ? Srgb.Decode((rgb >> 16) / 255.0, (rgb >> 8 & 255) / 255.0, (rgb & 255) / 255.0)
            : null;
}
