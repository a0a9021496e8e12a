using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Inks;

public sealed class InkLibraryTests
{
    [Fact]
    public void Every_kind_of_ink_has_a_white_a_black_and_the_process_colours()
    {
        string[] wanted = ["white", "black", "process-yellow", "process-magenta", "process-cyan", "red", "royal-blue"];

        foreach (var id in wanted)
        {
            Assert.Equal(InkKind.Plastisol, InkLibrary.Find(id)?.Kind);
            Assert.Equal(InkKind.WaterBased, InkLibrary.Find("wb-" + id)?.Kind);
        }
        Assert.Equal(InkKind.HighSolidsWaterBased, InkLibrary.BaseWhite(InkKind.WaterBased).Kind);
        Assert.Equal("white", InkLibrary.BaseWhite(InkKind.Plastisol).Id);
        Assert.Null(InkLibrary.Find("no-such-ink"));
    }

    [Fact]
    public void Identifiers_are_unique_and_every_ink_says_where_its_data_come_from()
    {
        var inks = InkLibrary.Default;

        Assert.Equal(inks.Length, inks.Select(ink => ink.Id).Distinct(StringComparer.Ordinal).Count());
        Assert.All(inks, ink => Assert.Equal(DataClass.C, ink.DataClass));
        Assert.All(inks, ink => Assert.StartsWith("default of the trade", ink.Source, StringComparison.Ordinal));
    }

    [Fact]
    public void No_film_is_perfectly_clear_and_film_and_cloth_inks_keep_their_own_convention()
    {
        foreach (var ink in InkLibrary.Default)
        {
            for (var i = 0; i < Spectrum.Bands; i++)
            {
                Assert.True(ink.AbsorptionPerUm[i] > 0, ink.Id);
                Assert.True(ink.ScatteringPerUm[i] > 0, ink.Id);
            }
            var film =
                ink.Kind is InkKind.Plastisol or InkKind.Metallic or InkKind.Foil or InkKind.Sheet or InkKind.Jet;
            Assert.Equal(film ? OpticalConvention.Film : OpticalConvention.None, ink.Convention);
        }
    }

    // [DUNCAN-1940], two-constant mixing with the numbers an independent library tests (0.5, 0.3, 0.2 of three pigments).
    [Fact]
    public void Mixing_adds_K_and_S_each_on_its_own()
    {
        double[][] k =
        [
            [1, .5, 1, .5, 1],
            [1, 1, .25, .5, .5],
            [1, 1, .75, .25, .25],
        ];
        double[][] s =
        [
            [.2, .4, .6, .8, 1],
            [1, .8, .6, .4, .2],
            [.2, .8, .2, .8, .2],
        ];
        double[] share = [.5, .3, .2];
        double[] expected = [.156520636181344, .234435562925363, .218836327679683, .334563915603707, .244572900888201];
        double[] withSurface =
        [
            .057389386089411,
            .091186832391423,
            .084095017367215,
            .141169974626911,
            .095888880683781,
        ];
        var surface = new OpticalConvention(0.033, 0.66, 0);

        for (var i = 0; i < 5; i++)
        {
            var mixedK = share.Zip(k, (c, values) => c * values[i]).Sum();
            var mixedS = share.Zip(s, (c, values) => c * values[i]).Sum();
            var inside = KubelkaMunk.Rinf(mixedK / mixedS);

            Assert.Equal(expected[i], inside, 1e-12);
            Assert.Equal(withSurface[i], Saunderson.Measured(inside, surface), 1e-12);
        }
    }

    // Single-constant mixing of reflectances, same independent library.
    [Fact]
    public void Mixing_one_constant_adds_K_over_S()
    {
        double[][] r =
        [
            [1, .5, 1, .5, 1],
            [1, 1, .25, .5, .5],
            [1, 1, .75, .25, .25],
        ];
        double[] share = [.5, .3, .2];
        double[] expected = [1, .609611796797792, .445129519024150, .409802974787652, .469337613708193];

        for (var i = 0; i < 5; i++)
        {
            var ks = share.Zip(r, (c, values) => c * KubelkaMunk.Ks(values[i])).Sum();
            Assert.Equal(expected[i], KubelkaMunk.Rinf(ks), 1e-12);
        }
    }

    // The library's own mixing: half red and half white has half of each one's K and S.
    [Fact]
    public void An_ink_mix_is_the_sum_of_its_pigments_at_the_scale_of_its_convention()
    {
        var (k, s) = InkMix.Film([(0.5, Pigment.Red), (0.5, Pigment.White)]);

        for (var i = 0; i < Spectrum.Bands; i++)
        {
            Assert.Equal(0.15 * (Pigment.Red.K[i] + Pigment.White.K[i]), k[i], 1e-15);
            Assert.Equal(0.15 * (Pigment.Red.S[i] + Pigment.White.S[i]), s[i], 1e-15);
        }
    }
}
