using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>A clear base darkens cloth ([LEKNER-DORF-1988]), and only as far as the ink says it wets.</summary>
public sealed class WettingTests
{
    // Hand calculation, k1 .04, k2 .6: .96 x .4 x .85 / (1 - .6 x .85) = .3264/.49 = .666, and ki = .012 more on matt film.
    [Fact]
    public void Cloth_of_85_percent_falls_to_67_when_fully_wetted()
    {
        var cloth = Cloths.Of(Spectrum.Flat(0.85));

        var wet = InkOnCloth.Reflectance(cloth, [Clear(1)], new(0, false));
        var dry = InkOnCloth.Reflectance(cloth, [Clear(0)], new(0, false));

        Assert.Equal(0.678, wet[17], 1e-3);
        Assert.Equal(0.666, wet[17] - OpticalConvention.Film.Ki, 1e-3);
        Assert.Equal(0.85, dry[17], 1e-9);
    }

    [Fact]
    public void More_wetting_is_never_lighter_and_the_clear_base_of_the_library_darkens_a_little()
    {
        var l = new[] { 0, 0.1, 0.3, 0.6, 1 }.Select(w => Cloths.Printed(Cloths.White, Clear(w)).L).ToArray();

        for (var i = 1; i < l.Length; i++)
            Assert.True(l[i] < l[i - 1], string.Join(", ", l));
        var library = Cloths.Printed(Cloths.White, Cloths.Film("clear-base", 20));
        Assert.InRange(Cloths.LabOf(Cloths.White).L - library.L, 1, 4);
    }

    [Fact]
    public void No_other_ink_of_the_library_wets()
    {
        Assert.All(InkLibrary.Default, ink => Assert.Equal(0, ink.Wetting));
        Assert.Equal(0.2, InkLibrary.Find("clear-base")!.Wetting);
    }

    private static PrintedLayer Clear(double wetting) =>
        PrintedLayer.Film(
            InkLibrary.ClearBase with
            {
                AbsorptionPerUm = Spectrum.Flat(0),
                ScatteringPerUm = Spectrum.Flat(0),
                Wetting = wetting,
            },
            20
        );
}
