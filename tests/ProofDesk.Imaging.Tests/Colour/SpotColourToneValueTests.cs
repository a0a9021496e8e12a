using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Tests.Colour;

public sealed class SpotColourToneValueTests
{
    private static readonly Xyz Black = Tristimulus.Of(Spectrum.Flat(0.03), ViewingLight.D50);
    private static readonly Xyz White = Tristimulus.Of(Spectrum.Flat(0.80), ViewingLight.D50);

    [Fact]
    public void The_ground_has_tone_0_and_the_solid_tone_1()
    {
        Assert.Equal(0, SpotColourToneValue.Of(Black, White, Black, ViewingLight.D50), 1e-12);
        Assert.Equal(1, SpotColourToneValue.Of(Black, White, White, ViewingLight.D50), 1e-12);
    }

    // For greys all three terms are L*: (L*t - L*p)/(L*s - L*p) = (70.86 - 20.04)/(91.68 - 20.04) for R 0.42, 0.03, 0.80.
    [Fact]
    public void On_greys_it_is_the_share_of_the_lightness_step_even_for_white_on_black()
    {
        var tint = Tristimulus.Of(Spectrum.Flat(0.42), ViewingLight.D50);

        var tone = SpotColourToneValue.Of(Black, White, tint, ViewingLight.D50);

        double L(double y) => 116 * Math.Cbrt(y) - 16;
        Assert.Equal((L(0.42) - L(0.03)) / (L(0.80) - L(0.03)), tone, 1e-9);
    }
}
