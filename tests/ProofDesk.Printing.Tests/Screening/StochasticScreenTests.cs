using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Tests.Screening;

public sealed class StochasticScreenTests
{
    private static readonly ThresholdArray Fine = ThresholdArray.For(Screen.Stochastic(25400 / 720.0, 0), 1440, 1440);

    private const int Side = 256;

    private static bool[] Dots(ThresholdArray array, double tone)
    {
        var dots = new bool[Side * Side];
        for (var y = 0; y < Side; y++)
        for (var x = 0; x < Side; x++)
            dots[y * Side + x] = tone * ThresholdTile.Solid > array.Tile[2 * x, 2 * y];
        return dots;
    }

    // physics H13, for a stochastic tile: histogram flat, mean tone exact.
    [Fact]
    public void Every_tone_inks_its_share_to_one_film_pixel()
    {
        var n = Fine.Tile.Levels;
        Assert.Equal(4 * Side * Side, n);
        var inked = new int[256];
        for (var y = 0; y < Fine.Tile.Height; y++)
        for (var x = 0; x < Fine.Tile.Width; x++)
        for (var tone = 255; tone * ThresholdTile.StepsPerTone > Fine.Tile[x, y]; tone--)
            inked[tone]++;

        // Thresholds have 128 steps a tone, film pixels 1028: equal thresholds go together.
        for (var tone = 0; tone <= 255; tone++)
            Assert.InRange(inked[tone], tone * n / 255.0 - 10, tone * n / 255.0 + 10);
    }

    // Against a screen of the same fineness: no frequency stands out, no direction is preferred, and low frequencies are missing
    // (blue noise). Periodogram by plain sums over the tile, tone a quarter.
    [Fact]
    public void No_frequency_stands_out_and_coarse_ones_are_missing()
    {
        var power = Power(Dots(Fine, 0.25));
        var rings = power.GroupBy(p => (int)p.Radius).ToDictionary(g => g.Key, g => g.Average(p => p.Power));

        var highest = power.Where(p => p.Radius >= 8).Max(p => p.Power);
        var mean = power.Average(p => p.Power);
        Assert.InRange(highest / mean, 1, 25);
        var coarse = power.Where(p => p.Radius is >= 1 and < 32).Average(p => p.Power);
        Assert.InRange(coarse / mean, 0, 0.05);
        Assert.True(rings.Count > 50);

        static List<(double Radius, double Power)> Power(bool[] dots)
        {
            var centred = dots.Select(d => (d ? 1.0 : 0) - 0.25).ToArray();
            var result = new List<(double, double)>();
            // Across first, then down, each frequency on its own.
            var waves = Enumerable.Range(0, Side).Select(i => Math.SinCos(2 * Math.PI * i / Side)).ToArray();
            for (var u = -127; u < 128; u += 5)
            {
                var across = new (double Re, double Im)[Side];
                for (var y = 0; y < Side; y++)
                for (var x = 0; x < Side; x++)
                {
                    var (sin, cos) = waves[(u * x % Side + Side) % Side];
                    var value = centred[y * Side + x];
                    across[y] = (across[y].Re + value * cos, across[y].Im - value * sin);
                }
                for (var v = 0; v < 128; v += 3)
                {
                    if (u == 0 && v == 0)
                        continue;
                    var (re, im) = (0.0, 0.0);
                    for (var y = 0; y < Side; y++)
                    {
                        var (sin, cos) = waves[v * y % Side];
                        re += across[y].Re * cos + across[y].Im * sin;
                        im += across[y].Im * cos - across[y].Re * sin;
                    }
                    result.Add((Math.Sqrt(u * u + v * v), re * re + im * im));
                }
            }
            return result;
        }
    }

    // The inverse of a plate set of stochastic screens assumes it ([DEMICHEL-1924]).
    [Fact]
    public void Plates_of_different_variants_overlap_as_if_by_chance()
    {
        for (var first = 0; first < 5; first++)
        for (var second = first + 1; second < 5; second++)
        {
            var one = Dots(ThresholdArray.For(Screen.Stochastic(25400 / 720.0, first), 1440, 1440), 0.5);
            var two = Dots(ThresholdArray.For(Screen.Stochastic(25400 / 720.0, second), 1440, 1440), 0.5);
            var both = one.Zip(two).Count(p => p.First && p.Second) / (double)one.Length;
            Assert.InRange(both, 0.23, 0.27);
        }
    }

    [Fact]
    public void Growth_of_small_dots_is_large_and_is_taken_back()
    {
        var curve = ToneCompensation.Stochastic(25400 / 720.0, 12);

        Assert.InRange(curve.Printed(0.25), 0.5, 0.7);
        foreach (var wanted in new[] { 0.1, 0.3, 0.5, 0.7, 0.9 })
            Assert.Equal(wanted, curve.Printed(curve.Film(wanted)), 2);
    }
}
