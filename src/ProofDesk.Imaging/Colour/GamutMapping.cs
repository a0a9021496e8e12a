namespace ProofDesk.Imaging.Colour;

/// <summary>
/// Brings a colour into sRGB by reducing its chroma at constant hue and lightness (Oklab), the idea of [CIE-156] without
/// lightness compression. Clipping each channel instead turns orange into yellow and cyan into blue.
/// </summary>
public static class GamutMapping
{
    // A colour this little outside prints the same 8-bit code: half a code step at the dark end is 1.5e-4.
    private const double Tolerance = 1e-4;

    public static bool IsInSrgb(LinearRgb rgb) => Inside(rgb.R) && Inside(rgb.G) && Inside(rgb.B);

    /// <summary>The colour itself when sRGB can show it, else the most colourful one of the same hue and lightness.</summary>
    public static LinearRgb IntoSrgb(LinearRgb rgb)
    {
        if (IsInSrgb(rgb))
            return Clip(rgb);
        var wanted = Oklab.FromLinear(rgb);
        // Brighter than display white (fluorescence) or darker than black: nothing of that lightness but the end itself.
        if (wanted.L >= 1)
            return new(1, 1, 1);
        if (wanted.L <= 0)
            return new(0, 0, 0);

        // Bisection: 0 of the chroma is inside, all of it outside; 24 halvings are finer than a 16-bit step.
        double inside = 0,
            outside = 1;
        for (var i = 0; i < 24; i++)
        {
            var share = (inside + outside) / 2;
            var trial = new Oklab(wanted.L, share * wanted.A, share * wanted.B).ToLinear();
            if (IsInSrgb(trial))
                inside = share;
            else
                outside = share;
        }
        return Clip(new Oklab(wanted.L, inside * wanted.A, inside * wanted.B).ToLinear());
    }

    private static bool Inside(double channel) => channel is >= -Tolerance and <= 1 + Tolerance;

    private static LinearRgb Clip(LinearRgb rgb) =>
        new(Math.Clamp(rgb.R, 0, 1), Math.Clamp(rgb.G, 0, 1), Math.Clamp(rgb.B, 0, 1));
}
