using CsCheck;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Inks;

public sealed class TwoBackgroundsTests
{
    // One band, no surface, readings rounded to four digits; truth K 0.004, S 0.06. Computed independently.
    [Fact]
    public void Readings_over_black_and_white_give_K_and_S()
    {
        var band = TwoBackgrounds.Band(0.5911, 0.7435, 0.04, 0.85, 30)!.Value;

        Assert.Equal(1.066649, band.A, 1e-5);
        Assert.Equal(0.059984, band.S, 1e-5);
        Assert.Equal(0.003998, band.K, 1e-5);
        Assert.Equal(0.695515, band.Rinf, 1e-5);
    }

    // With a surface (k1 0.04, k2 0.6): a red at 650 nm, measured 0.3237 over black and 0.8319 over white, 25 um.
    [Fact]
    public void A_surface_is_taken_off_first()
    {
        var surface = new OpticalConvention(0.04, 0.6, 0);
        double In(double measured) => Saunderson.Internal(measured, surface);

        var band = TwoBackgrounds.Band(In(0.3237), In(0.8319), In(0.04), In(0.85), 25)!.Value;

        Assert.Equal(0.5598, In(0.3237), 1e-4);
        Assert.Equal(1.0055, band.A, 1e-4);
        Assert.Equal(0.04719, band.S, 1e-5);
        Assert.Equal(0.00026, band.K, 1e-5);
    }

    // A nearly clear film, truth K 0.05, S 0.0005, 20 um. The first order alone gives K 0.0505.
    [Fact]
    public void A_nearly_clear_film_is_solved_from_its_transmittance()
    {
        var layer = KubelkaMunk.Layer(0.05, 0.0005, 20);

        var band = TwoBackgrounds.Band(layer.Over(0.04), layer.Over(0.85), 0.04, 0.85, 20)!.Value;

        Assert.Equal(0.05, band.K, 1e-9);
        Assert.Equal(0.0005, band.S, 1e-9);
    }

    [Fact]
    public void A_film_that_hides_the_ground_says_nothing_about_S()
    {
        Assert.Null(TwoBackgrounds.Band(0.0138, 0.0138, 0.04, 0.85, 25));
    }

    [Fact]
    public void A_simulated_drawdown_gives_back_K_and_S_wherever_they_are_determined()
    {
        Gen.Select(Gen.Double[0.0005, 0.02], Gen.Double[0.02, 0.15], Gen.Double[10, 30])
            .Sample(
                (k, s, x) =>
                {
                    var layer = KubelkaMunk.Layer(k, s, x);
                    if (layer.Over(0.85) - layer.Over(0.04) < 0.02)
                        return true;
                    var band = TwoBackgrounds.Band(layer.Over(0.04), layer.Over(0.85), 0.04, 0.85, x)!.Value;
                    return Math.Abs(band.K - k) < 1e-6 && Math.Abs(band.S - s) < 1e-6;
                }
            );
    }

    // The whole way: the default red drawn down on a card, measured, and its K and S found again; the opaque bands from neighbours.
    [Fact]
    public void A_measured_ink_prints_the_colour_it_had_on_the_card()
    {
        var red = InkLibrary.Find("red")!;
        var (black, white) = (Spectrum.Flat(0.04), Spectrum.Flat(0.85));
        Spectrum Card(Spectrum ground, Spectrum k, Spectrum s)
        {
            var values = new double[Spectrum.Bands];
            for (var i = 0; i < values.Length; i++)
            {
                var inside = Saunderson.Internal(ground[i], red.Convention);
                values[i] = Saunderson.Measured(KubelkaMunk.Layer(k[i], s[i], 25).Over(inside), red.Convention);
            }
            return Spectrum.Of(values);
        }
        var overBlack = Card(black, red.AbsorptionPerUm, red.ScatteringPerUm);
        var overWhite = Card(white, red.AbsorptionPerUm, red.ScatteringPerUm);

        var (k, s) = TwoBackgrounds.Spectra(overBlack, overWhite, black, white, 25, red.Convention);

        var again = Presses.Cloths.LabOf(Card(white, k, s));
        Assert.True(Ciede2000.Difference(Presses.Cloths.LabOf(overWhite), again) < 0.3, $"{again}");
    }

    [Fact]
    public void A_film_that_hides_everything_is_refused_with_what_to_do()
    {
        var error = Assert.Throws<ArgumentException>(() =>
            TwoBackgrounds.Spectra(
                Spectrum.Flat(0.3),
                Spectrum.Flat(0.3),
                Spectrum.Flat(0.04),
                Spectrum.Flat(0.85),
                80,
                OpticalConvention.None
            )
        );

        Assert.Equal(
            "the film of 80 um looks the same over black and over white, so its scattering cannot be found; measure a thinner film, one that hides 75 to 95 %",
            error.Message
        );
    }
}
