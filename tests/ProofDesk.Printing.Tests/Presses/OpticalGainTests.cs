using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Presses;

public sealed class OpticalGainTests
{
    private const int Grid = 64;

    // The table computed again: transparent ink, R = T (PSF * T Rg), exponential point spread with the transfer function
    // (1 + (2 pi l f)^2)^(-3/2), Euclidean dots, n fitted to coverages 0.1 to 0.9.
    [Theory]
    [InlineData(0.01)]
    [InlineData(0.02)]
    [InlineData(0.05)]
    [InlineData(0.10)]
    [InlineData(0.15)]
    [InlineData(0.20)]
    [InlineData(0.30)]
    [InlineData(0.50)]
    [InlineData(1.0)]
    public void The_table_of_n_follows_from_the_point_spread_model(double lengthOverPeriod)
    {
        Assert.Equal(FittedN(lengthOverPeriod), OpticalGain.N(lengthOverPeriod), 0.02);
    }

    [Fact]
    public void Without_sideways_light_n_is_1_and_never_above_2()
    {
        Assert.Equal(1, OpticalGain.N(0));
        Assert.Equal(2, OpticalGain.N(50));
    }

    // 55 lpi. White jersey: 1/S = 167 um, l/p = 0.36; white base 9 um; black cloth: the dye swallows the light after 8 um.
    [Fact]
    public void N_is_near_2_on_white_cloth_and_near_1_on_a_base_and_on_black_cloth()
    {
        Assert.Equal(1.91, OpticalGain.YuleNielsenN(Cloths.White, null, 55), 0.02);
        Assert.Equal(1.08, OpticalGain.YuleNielsenN(Cloths.Black, Cloths.Ink("white"), 55), 0.02);
        Assert.Equal(1.07, OpticalGain.YuleNielsenN(Cloths.Black, null, 55), 0.02);
        Assert.Equal(166.7, OpticalGain.ClothLengthUm(Cloths.White), 0.1);
        Assert.InRange(OpticalGain.ClothLengthUm(Cloths.Black), 5, 12);
    }

    [Fact]
    public void Optical_gain_is_13_to_16_percent_on_white_cloth_below_3_on_a_base_and_unseen_on_black_cloth()
    {
        Assert.InRange(Gain(OpticalGain.YuleNielsenN(Cloths.White, null, 55)), 0.13, 0.16);
        Assert.InRange(Gain(OpticalGain.YuleNielsenN(Cloths.Black, Cloths.Ink("white"), 55)), 0.005, 0.03);

        // On black cloth the little that n = 1.07 changes is below a quarter of one L*.
        var n = OpticalGain.YuleNielsenN(Cloths.Black, null, 55);
        double L(double y) => 903.3 * y;
        Assert.True(Math.Abs(L(ToneValue.Reflectance(0.024, 0.012, 0.5, n)) - L(0.018)) < 0.25);
    }

    private static double Gain(double n) => (1 - ToneValue.Reflectance(1, 0.05, 0.5, n)) / 0.95 - 0.5;

    private static double FittedN(double lengthOverPeriod)
    {
        double[] coverages = [.1, .2, .3, .4, .5, .6, .7, .8, .9];
        var exact = coverages.Select(a => PointSpread(a, lengthOverPeriod)).ToArray();
        double Error(double n) =>
            coverages.Zip(exact, (a, r) => Math.Pow(ToneValue.Reflectance(1, 0.05, a, n) - r, 2)).Sum();
        double best = 1;
        for (var n = 1.0; n <= 2.2; n += 0.001)
            if (Error(n) < Error(best))
                best = n;
        return best;
    }

    // Mean of T (PSF * T): in the frequency domain the sum of |T^|^2 times the transfer function.
    private static double PointSpread(double coverage, double lengthOverPeriod)
    {
        var t = Dots(coverage, Math.Sqrt(0.05));
        var mean = 0.0;
        var rows = new (double Re, double Im)[Grid, Grid];
        for (var y = 0; y < Grid; y++)
        for (var u = 0; u < Grid; u++)
        for (var x = 0; x < Grid; x++)
        {
            var angle = -2 * Math.PI * u * x / Grid;
            rows[y, u].Re += t[y, x] * Math.Cos(angle);
            rows[y, u].Im += t[y, x] * Math.Sin(angle);
        }
        for (var u = 0; u < Grid; u++)
        for (var v = 0; v < Grid; v++)
        {
            double re = 0,
                im = 0;
            for (var y = 0; y < Grid; y++)
            {
                var (c, s) = (Math.Cos(-2 * Math.PI * v * y / Grid), Math.Sin(-2 * Math.PI * v * y / Grid));
                re += rows[y, u].Re * c - rows[y, u].Im * s;
                im += rows[y, u].Re * s + rows[y, u].Im * c;
            }
            var (fu, fv) = (u < Grid / 2 ? u : u - Grid, v < Grid / 2 ? v : v - Grid);
            var f2 = fu * fu + fv * fv;
            var transfer = Math.Pow(1 + Math.Pow(2 * Math.PI * lengthOverPeriod, 2) * f2, -1.5);
            mean += (re * re + im * im) * transfer;
        }
        return mean / ((double)Grid * Grid * Grid * Grid);
    }

    // Transmittance of one cell: the pixels of highest spot value carry ink, so the coverage is exact to one pixel.
    private static double[,] Dots(double coverage, double ink)
    {
        var order = Enumerable
            .Range(0, Grid * Grid)
            .OrderByDescending(i =>
                Math.Cos(2 * Math.PI * (i % Grid + 0.5) / Grid) + Math.Cos(2 * Math.PI * (i / Grid + 0.5) / Grid)
            )
            .ToArray();
        var t = new double[Grid, Grid];
        for (var rank = 0; rank < order.Length; rank++)
            t[order[rank] / Grid, order[rank] % Grid] = rank < coverage * Grid * Grid ? ink : 1;
        return t;
    }
}
