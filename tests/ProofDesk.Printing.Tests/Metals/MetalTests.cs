using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Metals;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Metals;

public sealed class MetalTests
{
    // Reflectances that follow from the public tables of [JOHNSON-CHRISTY-1972] and [RAKIC-1995], computed independently.
    [Theory]
    [InlineData("aluminium", 550, 0.915)]
    [InlineData("gold", 450, 0.408)]
    [InlineData("gold", 550, 0.792)]
    [InlineData("gold", 650, 0.957)]
    [InlineData("copper", 450, 0.538)]
    [InlineData("copper", 550, 0.624)]
    [InlineData("copper", 650, 0.935)]
    public void A_metal_reflects_what_its_index_says(string metal, int nm, double reflectance)
    {
        var f0 = Named(metal).Reflectance();

        Assert.Equal(reflectance, f0[(nm - Spectrum.FirstNanometres) / Spectrum.StepNanometres], 0.003);
    }

    [Theory]
    [InlineData("aluminium", 1, 0.907, 0.916, 0.922)]
    [InlineData("aluminium", 1.5, 0.867, 0.880, 0.890)]
    [InlineData("silver", 1, 0.989, 0.984, 0.978)]
    [InlineData("gold", 1, 1.037, 0.729, 0.365)]
    [InlineData("copper", 1, 0.932, 0.623, 0.522)]
    public void A_metal_has_its_colour(string metal, double outside, double r, double g, double b)
    {
        var f0 = Named(metal).Reflectance(outside);
        var rgb = Srgb.FromXyz(Tristimulus.Of(f0, ViewingLight.D65), ViewingLight.D65);

        Assert.Equal(r, rgb.R, 0.01);
        Assert.Equal(g, rgb.G, 0.01);
        Assert.Equal(b, rgb.B, 0.01);
    }

    [Fact]
    public void Gold_foil_is_bright_where_it_mirrors_the_softbox_and_dark_elsewhere()
    {
        var foil = MetalSurface.Foil(Metal.Gold);
        var light = StudioLight.Default;

        var mirroring = Y(light.Seen(foil, light.TiltDegrees / 2));
        var turnedAway = Y(light.Seen(foil, -light.TiltDegrees));
        var diffuse = Y(foil.Diffuse);

        Assert.True(mirroring > 100, $"{mirroring:0.0}: brighter than white cloth in the same light");
        Assert.True(turnedAway < 25, $"{turnedAway:0.0}: dark when nothing bright is mirrored");
        Assert.True(diffuse < 5, $"{diffuse:0.0}");
    }

    [Fact]
    public void A_perfect_diffuser_is_white_in_the_studio_and_a_rough_mirror_sees_less_of_the_softbox()
    {
        var light = StudioLight.Default;
        var smooth = light.Mirrored(light.TiltDegrees / 2, 0.01);
        var rough = light.Mirrored(light.TiltDegrees / 2, 0.4);

        Assert.Equal(light.Softbox, smooth, 0.01 * light.Softbox);
        Assert.InRange(rough, light.Surround, 0.9 * smooth);
        Assert.Equal(1, new StudioLight(30, 20, 1).Softbox, 1e-9);
        Assert.Equal(
            "metal is drawn under one softbox 30 degrees above the viewer, 40 degrees wide, in a dim room; elsewhere it will look darker or brighter",
            light.Text
        );
    }

    [Fact]
    public void Metallic_ink_mirrors_less_than_foil_and_shows_its_ground()
    {
        var clear = Spectrum.Flat(1);
        var onWhite = MetalSurface.Ink(Metal.Aluminium, 0.65, ClothSpectra.UndyedCotton(), clear);
        var onBlack = MetalSurface.Ink(Metal.Aluminium, 0.65, Cloths.Black.Colour.Reflectance, clear);
        var foil = MetalSurface.Foil(Metal.Aluminium);
        var light = StudioLight.Default;

        Assert.True(Y(light.Seen(onBlack, 15)) < 0.7 * Y(light.Seen(foil, 15)), "duller than foil");
        Assert.True(Y(onWhite.Diffuse) > Y(onBlack.Diffuse) + 10, "the ground shows between flakes");
        Assert.InRange(Y(onBlack.Diffuse), 22, 45);
    }

    [Fact]
    public void Lacquer_makes_aluminium_golden()
    {
        var lacquer = Spectrum.From(nm => 1 / (1 + Math.Exp((490 - nm) / 25)));
        var gold = Cloths.LabOf(MetalSurface.LacqueredFoil(Metal.Aluminium, lacquer).Specular);

        Assert.True(gold is { L: > 75, B: > 30 }, $"{gold}");
        Assert.InRange(gold.A, -12, 15);
    }

    private static double Y(Spectrum s) => Tristimulus.Of(s, ViewingLight.D50).Y;

    private static Metal Named(string name) =>
        new[] { Metal.Aluminium, Metal.Gold, Metal.Silver, Metal.Copper }.Single(m => m.Name == name);
}
