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

    // The mapped colour lies within one just noticeable step of the line of constant hue and lightness.
    [Fact]
    public void Hue_and_lightness_stay_within_a_just_noticeable_step_and_only_chroma_falls()
    {
        Anything
            .Where(c => !GamutMapping.IsInSrgb(c) && Oklab.FromLinear(c).L is > 0 and < 1)
            .Sample(colour =>
            {
                var before = Oklab.FromLinear(colour);
                var after = Oklab.FromLinear(GamutMapping.IntoSrgb(colour));
                var across = Math.Abs(before.A * after.B - before.B * after.A) / Math.Max(before.Chroma, 1e-9);
                var off = Math.Sqrt(across * across + Math.Pow(after.L - before.L, 2));
                return off < 0.0201 && after.Chroma <= before.Chroma + 0.0201;
            });
    }

    // dE00 between wanted and shown, warm yellow and cyan of prints on white cloth; without the local clip 8.2 and 9.8, by
    // clipping alone 4.1 and 12.0.
    [Fact]
    public void The_shown_colour_is_near_the_wanted_one_on_warm_yellow_and_on_cyan()
    {
        Assert.InRange(Shown(new(82, 24, 100)), 2, 6);
        Assert.InRange(Shown(new(50.7, -37, -54)), 5, 9.8);

        double Shown(Lab lab) => Ciede2000.Difference(lab, Srgb.ToLab(GamutMapping.IntoSrgb(Srgb.FromLab(lab))));
    }

    // A process cyan on white cloth, Lab 44 -30 -54, has a negative red; clipping the channel turns it bluer.
    [Fact]
    public void A_cyan_outside_turns_by_a_few_degrees_where_clipping_channels_turns_it_by_many()
    {
        var cyan = Srgb.FromLab(new(44, -30, -54));
        Assert.True(cyan.R < -0.01, $"red is {cyan.R}");

        var mapped = Oklab.FromLinear(GamutMapping.IntoSrgb(cyan));
        var clipped = Oklab.FromLinear(new(Math.Max(0, cyan.R), cyan.G, cyan.B));

        Assert.InRange(HueStep(cyan, mapped), 0, 6);
        Assert.InRange(HueStep(cyan, clipped), 12, 90);
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
