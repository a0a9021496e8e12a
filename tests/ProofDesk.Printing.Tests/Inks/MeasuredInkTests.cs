using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Inks;

public sealed class MeasuredInkTests
{
    public static TheoryData<string> Films =>
        [.. InkLibrary.OfKind(InkKind.Plastisol).Where(ink => ink.Role != InkRole.Black).Select(ink => ink.Id)];

    [Theory]
    [MemberData(nameof(Films))]
    public void A_measured_film_prints_the_colours_of_the_ink_it_was_made_of(string id)
    {
        var truth = Cloths.Ink(id);

        var ink = Made(new SimulatedCard(truth, BestFilm(truth)).Definition());

        Assert.Equal((DataClass.A, truth.Convention), (ink.DataClass, ink.Convention));
        foreach (var cloth in new[] { Cloths.White, Cloths.Black, Cloths.Red })
        {
            var off = Ciede2000.Difference(Solid(truth, cloth), Solid(ink, cloth));
            // Measured over black and white, proofs are expected within 2 to 3 dE00; the worst here is a navy, 1.6.
            Assert.True(off < 2, $"{id} on {cloth.Colour.Name}: {off:0.00} dE00");
        }
    }

    [Theory]
    [MemberData(nameof(Films))]
    public void With_a_tint_in_white_beside_it_the_same_colours_come_nearer(string id)
    {
        var truth = Cloths.Ink(id);

        var ink = Made(new SimulatedCard(truth, BestFilm(truth)) { Tints = [10], WhiteStrength = 1.2 }.Definition());

        foreach (var cloth in new[] { Cloths.White, Cloths.Black, Cloths.Red })
        {
            var off = Ciede2000.Difference(Solid(truth, cloth), Solid(ink, cloth));
            Assert.True(off < 0.5, $"{id} on {cloth.Colour.Name}: {off:0.00} dE00");
        }
    }

    // Six digits of percent leave about 1e-8 of noise: wherever the film lets the card through, K and S come back.
    [Fact]
    public void K_and_S_come_back_wherever_the_card_shows_through()
    {
        var truth = Cloths.Ink("bright-yellow");

        var ink = Made(new SimulatedCard(truth, 20).Definition());

        for (var i = 0; i < Spectrum.Bands; i++)
        {
            var layer = KubelkaMunk.Layer(truth.AbsorptionPerUm[i], truth.ScatteringPerUm[i], 20);
            if (layer.T < 0.2 || layer.R0 < 0.05)
                continue;
            Assert.Equal(truth.ScatteringPerUm[i], ink.ScatteringPerUm[i], 1e-4 * truth.ScatteringPerUm[i]);
            Assert.Equal(truth.AbsorptionPerUm[i], ink.AbsorptionPerUm[i], 1e-3 * truth.ScatteringPerUm[i]);
        }
    }

    [Fact]
    public void Bands_in_which_the_card_does_not_show_are_listed()
    {
        var reading = new SimulatedCard(Cloths.Ink("red"), 25).Definition().Make("inks.json");

        Assert.Equal<string>(
            [
                "the film hides the card at 380 to 590 nm: scattering there is taken from the bands beside it; a film half as thick or a 10 % tint in white would measure it",
            ],
            reading.Warnings
        );
    }

    // The white a shop tints with is not our default white: 1.3 times its strength here, and found out.
    [Theory]
    [InlineData(1)]
    [InlineData(1.3)]
    [InlineData(0.8)]
    public void A_tint_in_white_measures_the_bands_a_film_hides(double whiteStrength)
    {
        var truth = Cloths.Ink("red");
        var card = new SimulatedCard(truth, 25) { Tints = [10, 30], WhiteStrength = whiteStrength };

        var reading = card.Definition().Make("inks.json");

        Assert.Equal(
            [
                FormattableString.Invariant(
                    $"the film hides the card at 380 to 590 nm: scattering there is from 2 tints in white, taken as {whiteStrength:0.00} times our default white"
                ),
            ],
            reading.Warnings.Take(1)
        );
        for (var nm = 400; nm <= 590; nm += 10)
        {
            var i = (nm - 380) / 10;
            Assert.Equal(truth.ScatteringPerUm[i], reading.Ink!.ScatteringPerUm[i], 0.03 * truth.ScatteringPerUm[i]);
            Assert.Equal(truth.AbsorptionPerUm[i], reading.Ink.AbsorptionPerUm[i], 0.03 * truth.AbsorptionPerUm[i]);
        }
    }

    [Fact]
    public void A_film_of_unknown_thickness_prints_alike_through_its_mesh_and_scales_to_others_by_ink_volume()
    {
        var truth = Cloths.Ink("orange");
        var mesh = Cloths.Mesh("77-55");
        var pass = DepositModel.FilmUm(mesh, truth, PressSettings.Automatic, 1, false, Deposit.Expected);
        // The true film is half as thick again as our estimate of a pass; only K X and S X can be known.
        var card = new SimulatedCard(Thicker(truth, pass, 1.5 * pass), pass)
        {
            Thickness = "FILM_MESH \"77-55\"\nFILM_THICKNESS_UM \"unknown\"",
        };

        var reading = card.Definition().Make("inks.json");

        Assert.Equal(DataClass.A, reading.Ink!.DataClass);
        Assert.Contains(
            FormattableString.Invariant(
                $"FILM_THICKNESS_UM is not given: the film is taken as one pass of mesh 77-55, {pass:0.0} um"
            ),
            reading.Warnings
        );
        foreach (var other in new[] { mesh, Cloths.Mesh("120-34"), Cloths.Mesh("43-80") })
        {
            var expected = InkSwatch.Printed(Thicker(truth, pass, 1.5 * pass), Cloths.Black, other, ViewingLight.D50);
            var got = InkSwatch.Printed(reading.Ink, Cloths.Black, other, ViewingLight.D50);
            Assert.True(Ciede2000.Difference(expected, got) < 0.3, other.Label);
        }
    }

    [Fact]
    public void Without_thickness_and_mesh_the_ink_is_of_class_B_and_says_why()
    {
        var card = new SimulatedCard(Cloths.Ink("orange"), 20) { Thickness = "" };

        var reading = card.Definition().Make("inks.json");

        Assert.Equal(DataClass.B, reading.Ink!.DataClass);
        Assert.Contains(
            "FILM_THICKNESS_UM and FILM_MESH are not given: the film is taken as one pass of mesh 61-64, data class B",
            reading.Warnings
        );
    }

    // The same film on an instrument that includes the specular part reads 0.028 more and is the same ink.
    [Fact]
    public void The_instruments_geometry_is_taken_off()
    {
        var truth = Cloths.Ink("green");
        var sphere = new SimulatedCard(truth, 14)
        {
            Geometry = "MEASUREMENT_GEOMETRY \"d/8 specular included\"",
            Ki = 0.04,
        };

        var ink = Made(sphere.Definition());

        Assert.True(Ciede2000.Difference(Solid(truth, Cloths.Black), Solid(ink, Cloths.Black)) < 0.5);
        Assert.Equal(OpticalConvention.Film, ink.Convention);
    }

    [Fact]
    public void Tabs_quotes_comments_trailing_blanks_and_fractions_are_read_as_measurement_programs_write_them()
    {
        var truth = Cloths.Ink("fuchsia");
        var card = new SimulatedCard(truth, 14)
        {
            Percent = 1,
            Norm = "SPECTRAL_NORM \"1.0\"",
            Prefix = "SPEC_",
            FirstNm = 400,
            LastNm = 700,
        };

        var reading = card.Definition(change: text =>
                text.Replace("CGATS.17\n", "CTI3   \nKEYWORD \"FILM_THICKNESS_UM\"\n# made for a test\n")
                    .Replace("over black", "OVER_BLACK")
                    .Replace("\"white\"", "bare_white")
                    .Replace("\n", "  \r\n") + "   \r\n\t\r\n"
            )
            .Make("inks.json");

        Assert.Empty(reading.Problems);
        Assert.Equal(
            ["measured from 400 to 700 nm: the ends of 380 to 730 nm repeat the nearest value"],
            reading.Warnings.Where(w => !w.StartsWith("the film", StringComparison.Ordinal))
        );
        Assert.True(Ciede2000.Difference(Solid(truth, Cloths.White), Solid(reading.Ink!, Cloths.White)) < 0.6);
    }

    [Fact]
    public void Rows_of_20_nm_and_rows_nobody_asked_for_are_read_and_said()
    {
        var card = new SimulatedCard(Cloths.Ink("violet"), 8) { StepNm = 20, LastNm = 720 };

        var reading = card.Definition(change: text =>
                text.Replace(
                    "\nEND_DATA\n",
                    "\n9\tgrey\t" + string.Join('\t', Enumerable.Repeat("18", 18)) + "\nEND_DATA\n"
                )
            )
            .Make("inks.json");

        Assert.Empty(reading.Problems);
        Assert.Equal("wavelengths every 20 nm: values between them are drawn straight", reading.Warnings[0]);
        Assert.Contains("line 15: the row \"grey\" is not used", reading.Warnings);
    }

    // What is in a shop's ink besides its optics comes along.
    [Fact]
    public void Name_solids_density_formula_and_target_are_the_shops()
    {
        var formula = new InkFormula([new("Red paste", 180), new("Clear base", 820)]);
        var target = new InkTarget(new(45, 68, 42), 2, ViewingLight.D50);

        var ink = Made(
            new SimulatedCard(Cloths.Ink("red"), 14).Definition("harbour-red") with
            {
                Name = "Harbour red",
                VolumeSolids = 0.9,
                DensityGramsPerCm3 = 1.3,
                Formula = formula,
                Target = target,
            }
        );

        Assert.Equal(
            ("own-harbour-red", "Harbour red", 0.9, 1.3, formula, target),
            (ink.Id, ink.Name, ink.VolumeSolids, ink.DensityGramsPerCm3, ink.Formula, ink.Target)
        );
        Assert.Equal("the shop's own measurement over black and white, card.txt", ink.Source);
    }

    // The film that hides about 85 % of the card, as one that can be measured well does, but no thicker than a usual pass.
    private static double BestFilm(Ink ink) =>
        Enumerable
            .Range(2, 13)
            .MinBy(um =>
            {
                var rows = new SimulatedCard(ink, um).Rows.ToArray();
                double Y(int row) => Tristimulus.Of(rows[row].Reflectance, ViewingLight.D65).Y;
                return Math.Abs(Y(0) / Y(1) - 0.85);
            });

    private static Ink Made(InkDefinition definition)
    {
        var reading = definition.Make("inks.json");
        Assert.Empty(reading.Problems);
        return reading.Ink!;
    }

    private static Lab Solid(Ink ink, Ground cloth) =>
        InkSwatch.Printed(ink, cloth, Cloths.Mesh("61-64"), ViewingLight.D50);

    private static Ink Thicker(Ink ink, double um, double trueUm) =>
        ink with
        {
            AbsorptionPerUm = ink.AbsorptionPerUm.Map(k => k * trueUm / um),
            ScatteringPerUm = ink.ScatteringPerUm.Map(s => s * trueUm / um),
        };
}
