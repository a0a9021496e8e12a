using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Presses;

public sealed class ThicknessSpreadTests
{
    [Theory]
    [InlineData(0.1)]
    [InlineData(0.3)]
    [InlineData(0.5)]
    [InlineData(1.0)]
    public void The_classes_rise_and_their_mean_is_the_film(double cv)
    {
        var classes = ThicknessSpread.Gamma(cv).Multipliers;

        Assert.Equal(8, classes.Length);
        Assert.Equal(1, classes.Average(), 1e-12);
        Assert.Equal(classes.Order(), classes);
        // Middle quantiles cut the tails off: nine tenths of the variation stay.
        var spread = Math.Sqrt(classes.Average(m => (m - 1) * (m - 1)));
        Assert.InRange(spread / cv, 0.82, 0.98);
    }

    // For shape 4 (cv 0.5) the distribution has a closed form: P = 1 - e^-x (1 + x + x^2/2 + x^3/6).
    [Theory]
    [InlineData(0.0625)]
    [InlineData(0.4375)]
    [InlineData(0.5)]
    [InlineData(0.9375)]
    public void The_quantiles_are_those_of_the_Gamma_distribution(double probability)
    {
        var x = ThicknessSpread.Quantile(4, probability);

        Assert.Equal(probability, 1 - Math.Exp(-x) * (1 + x + x * x / 2 + x * x * x / 6), 1e-10);
    }

    [Fact]
    public void No_variation_is_an_even_film()
    {
        Assert.All(ThicknessSpread.Gamma(0).Multipliers, m => Assert.Equal(1, m));
    }

    [Fact]
    public void A_negative_variation_is_refused_with_its_value()
    {
        var error = Assert.Throws<ArgumentOutOfRangeException>(() => ThicknessSpread.Gamma(-0.5));

        Assert.StartsWith(
            "the thickness varies by -0.5 of its mean, a number from 0 to below 2 is needed",
            error.Message,
            StringComparison.Ordinal
        );
    }
}
