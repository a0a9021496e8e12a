namespace ProofDesk.Imaging.Colour;

/// <summary>
/// Spot colour tone value of [ISO-20654] (formula from memory, the body was not readable): how far a tint has gone from
/// the ground to the solid. Unlike density it also works for white on a dark cloth.
/// </summary>
public static class SpotColourToneValue
{
    /// <summary>Tone value 0..1 of a tint between ground (0) and solid (1), all seen under one light.</summary>
    public static double Of(Xyz ground, Xyz solid, Xyz tint, ViewingLight light)
    {
        var white = Tristimulus.White(light);
        var whole = Distance(ground, solid, white);
        return whole == 0 ? 0 : Distance(ground, tint, white) / whole;
    }

    // V = 116 f(X/Xn) - 16 for X, Y and Z alike, then a plain distance.
    private static double Distance(Xyz a, Xyz b, Xyz white)
    {
        var x = CieLab.F(a.X / white.X) - CieLab.F(b.X / white.X);
        var y = CieLab.F(a.Y / white.Y) - CieLab.F(b.Y / white.Y);
        var z = CieLab.F(a.Z / white.Z) - CieLab.F(b.Z / white.Z);
        return Math.Sqrt(x * x + y * y + z * z);
    }
}
