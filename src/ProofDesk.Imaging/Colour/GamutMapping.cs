namespace ProofDesk.Imaging.Colour;

/// <summary>
/// Brings a colour into sRGB by reducing its chroma at constant hue and lightness (Oklab), with a local clip as soon as
/// the clip moves the reduced colour by less than one just noticeable step: the algorithm of [CSS-COLOR-4], section on
/// CSS gamut mapping. Without the local clip warm yellows lose a third of their chroma at the sharp edge of the gamut; clipping
/// alone turns orange into yellow and cyan into blue.
/// </summary>
public static class GamutMapping
{
    // A colour this little outside prints the same 8-bit code: half a code step at the dark end is 1.5e-4.
    private const double Tolerance = 1e-4;

    // A distance of 0.02 in Oklab is about one just noticeable step ([CSS-COLOR-4]).
    internal const double JustNoticeable = 0.02;

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

        // Bisection for the largest share of the chroma whose clip is not noticed; 24 halvings are finer than a 16-bit step.
        double inside = 0,
            outside = 1;
        for (var i = 0; i < 24; i++)
        {
            var share = (inside + outside) / 2;
            if (ClipIsUnnoticed(Reduced(wanted, share)))
                inside = share;
            else
                outside = share;
        }
        return Clip(Reduced(wanted, inside).ToLinear());
    }

    private static Oklab Reduced(Oklab colour, double share) => new(colour.L, share * colour.A, share * colour.B);

    private static bool ClipIsUnnoticed(Oklab trial)
    {
        var clipped = Oklab.FromLinear(Clip(trial.ToLinear()));
        var (dl, da, db) = (clipped.L - trial.L, clipped.A - trial.A, clipped.B - trial.B);
        return dl * dl + da * da + db * db < JustNoticeable * JustNoticeable;
    }

    private static bool Inside(double channel) => channel is >= -Tolerance and <= 1 + Tolerance;

    private static LinearRgb Clip(LinearRgb rgb) =>
        new(Math.Clamp(rgb.R, 0, 1), Math.Clamp(rgb.G, 0, 1), Math.Clamp(rgb.B, 0, 1));
}
