using CsCheck;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Imaging.Tests.Colour;

public sealed class GamutMappingTests
{
    private static readonly Gen<LinearRgb> Anything = Gen.Select(
        Gen.Double[-0.6, 1.4],
        Gen.Double[-0.6, 1.4],
        Gen.Double[-0.6, 1.4],
        (r, g, b) => new LinearRgb(r, g, b)
    );

    [Fact]
    public void A_colour_that_sRGB_can_show_stays_as_it_is()
    {
        Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1], Gen.Double[0, 1])
            .Sample((r, g, b) => GamutMapping.IntoSrgb(new(r, g, b)) == new LinearRgb(r, g, b));
    }

    [Fact]
    public void Every_colour_ends_inside_and_mapping_twice_changes_nothing()
    {
        Anything.Sample(colour =>
        {
            var mapped = GamutMapping.IntoSrgb(colour);
            return mapped.R is >= 0 and <= 1
                && mapped.G is >= 0 and <= 1
                && mapped.B is >= 0 and <= 1
                && GamutMapping.IntoSrgb(mapped) == mapped;
        });
    }

    [Fact]
    public void Hue_and_lightness_stay_and_only_chroma_falls()
    {
        Anything
            .Where(c => !GamutMapping.IsInSrgb(c) && Oklab.FromLinear(c).L is > 0.2 and < 0.98)
            .Sample(colour =>
            {
                var before = Oklab.FromLinear(colour);
                var after = Oklab.FromLinear(GamutMapping.IntoSrgb(colour));
                // 0.005 of lightness and of chroma across the hue: the tolerance of 1e-4 in linear light, seen near black.
                var across = Math.Abs(before.A * after.B - before.B * after.A) / Math.Max(before.Chroma, 1e-9);
                return Math.Abs(after.L - before.L) < 0.005 && across < 0.005 && after.Chroma <= before.Chroma + 0.005;
            });
    }

    // A process cyan on white cloth, Lab 44 -30 -54, has a negative red; clipping the channel turns it bluer.
    [Fact]
    public void A_cyan_outside_keeps_its_hue_where_clipping_channels_would_turn_it()
    {
        var cyan = Srgb.FromLab(new(44, -30, -54));
        Assert.True(cyan.R < -0.01, $"red is {cyan.R}");

        var mapped = Oklab.FromLinear(GamutMapping.IntoSrgb(cyan));
        var clipped = Oklab.FromLinear(new(Math.Max(0, cyan.R), cyan.G, cyan.B));

        Assert.True(HueStep(cyan, mapped) < 0.3, $"mapped hue moves by {HueStep(cyan, mapped)} degrees");
        Assert.True(HueStep(cyan, clipped) > 2, $"clipped hue moves by {HueStep(cyan, clipped)} degrees");
    }

    [Fact]
    public void Brighter_than_display_white_is_white_and_darker_than_black_is_black()
    {
        Assert.Equal(new LinearRgb(1, 1, 1), GamutMapping.IntoSrgb(new(1.2, 1.2, 1.3)));
        Assert.Equal(new LinearRgb(0, 0, 0), GamutMapping.IntoSrgb(new(-0.1, -0.1, -0.1)));
    }

    private static double HueStep(LinearRgb from, Oklab to)
    {
        var before = Oklab.FromLinear(from);
        var turn = (Math.Atan2(before.B, before.A) - Math.Atan2(to.B, to.A)) * 180 / Math.PI;
        return Math.Abs(Math.IEEERemainder(turn, 360));
    }
}
