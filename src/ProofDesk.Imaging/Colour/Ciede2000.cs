namespace ProofDesk.Imaging.Colour;

/// <summary>
/// The colour difference CIEDE2000 with kL = kC = kH = 1, written from [SHARMA-2005], equations 2 to 22, whose 34 test
/// pairs are in the tests in full. Known trap: the mean hue (equation 14) jumps where two hues lie exactly 180 degrees
/// apart; pairs 9 to 15 of the table sit on both sides of it.
/// </summary>
public static class Ciede2000
{
    private const double TwentyFiveToTheSeventh = 6103515625;

    public static double Difference(Lab one, Lab two)
    {
        // Equations 2 to 7: a* stretched near the neutral axis, chroma and hue anew.
        var meanChroma = (one.Chroma + two.Chroma) / 2;
        var g = 0.5 * (1 - Math.Sqrt(SeventhPowerShare(meanChroma)));
        var (c1, h1) = Polar((1 + g) * one.A, one.B);
        var (c2, h2) = Polar((1 + g) * two.A, two.B);

        // Equations 8 to 11. A neutral colour has no hue, so it takes no part in the hue difference.
        var neutral = c1 * c2 == 0;
        var deltaL = two.L - one.L;
        var deltaC = c2 - c1;
        var deltaHue = neutral ? 0 : HueStep(h2 - h1);
        var deltaH = 2 * Math.Sqrt(c1 * c2) * Math.Sin(Radians(deltaHue) / 2);

        // Equations 12 to 14.
        var meanL = (one.L + two.L) / 2;
        var meanC = (c1 + c2) / 2;
        var meanH = neutral ? h1 + h2 : MeanHue(h1, h2);

        // Equations 15 to 21.
        var t =
            1
            - 0.17 * Cosine(meanH - 30)
            + 0.24 * Cosine(2 * meanH)
            + 0.32 * Cosine(3 * meanH + 6)
            - 0.20 * Cosine(4 * meanH - 63);
        var deltaTheta = 30 * Math.Exp(-Square((meanH - 275) / 25));
        var rc = 2 * Math.Sqrt(SeventhPowerShare(meanC));
        var sl = 1 + 0.015 * Square(meanL - 50) / Math.Sqrt(20 + Square(meanL - 50));
        var sc = 1 + 0.045 * meanC;
        var sh = 1 + 0.015 * meanC * t;
        var rt = -Math.Sin(Radians(2 * deltaTheta)) * rc;

        // Equation 22.
        return Math.Sqrt(
            Square(deltaL / sl) + Square(deltaC / sc) + Square(deltaH / sh) + rt * (deltaC / sc) * (deltaH / sh)
        );
    }

    private static (double Chroma, double HueDegrees) Polar(double a, double b)
    {
        if (a == 0 && b == 0)
            return (0, 0);
        var hue = Math.Atan2(b, a) * (180 / Math.PI);
        return (Math.Sqrt(a * a + b * b), hue < 0 ? hue + 360 : hue);
    }

    private static double HueStep(double difference) =>
        difference switch
        {
            > 180 => difference - 360,
            < -180 => difference + 360,
            _ => difference,
        };

    private static double MeanHue(double h1, double h2)
    {
        var sum = h1 + h2;
        if (Math.Abs(h1 - h2) <= 180)
            return sum / 2;
        return (sum < 360 ? sum + 360 : sum - 360) / 2;
    }

    private static double SeventhPowerShare(double chroma)
    {
        var c7 = Math.Pow(chroma, 7);
        return c7 / (c7 + TwentyFiveToTheSeventh);
    }

    private static double Cosine(double degrees) => Math.Cos(Radians(degrees));

    private static double Radians(double degrees) => degrees * (Math.PI / 180);

    private static double Square(double x) => x * x;
}
