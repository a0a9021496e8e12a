using CsCheck;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using static ProofDesk.Printing.Tests.Presses.Cloths;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>
/// What an expert looks for first. Expected numbers without another source were computed independently from the same
/// published formulas ([PHYSICS] 4); the bounds are what the trade would accept.
/// </summary>
public sealed class InkOnClothTests
{
    [Fact]
    public void Zero_ink_leaves_the_cloth_unchanged()
    {
        foreach (var ink in InkLibrary.Default)
        foreach (var ground in new[] { White, Black, Red, Brightened(0.3) })
        {
            var printed = InkOnCloth.Reflectance(ground, [new(ink, 0, ThicknessSpread.Even, 0.5)], new(0, false));

            var bare = Brightener.Radiance(ground.Colour);
            for (var i = 0; i < Spectrum.Bands; i++)
                Assert.Equal(bare[i], printed[i], 1e-12);
        }
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Two_grounds_at_once_have_the_colours_that_each_has_alone(bool bareFibre)
    {
        var point = new ClothPoint(1, bareFibre);
        PrintedLayer[] layers =
        [
            Film("white", 30),
            new(Ink("red"), 12, ThicknessSpread.Gamma(0.3), 0.2),
            Film("royal-blue", 4),
        ];

        var (first, second) = InkOnCloth.Reflectance(Brightened(0.3), Black, layers, point);

        Assert.Equal(InkOnCloth.Reflectance(Brightened(0.3), layers, point).Values.ToArray(), first.Values.ToArray());
        Assert.Equal(InkOnCloth.Reflectance(Black, layers, point).Values.ToArray(), second.Values.ToArray());
    }

    // White film on black cloth, L* at 5 to 100 um, even film.
    [Theory]
    [InlineData(5, 67.6)]
    [InlineData(10, 78.2)]
    [InlineData(20, 86.3)]
    [InlineData(30, 89.7)]
    [InlineData(50, 92.8)]
    [InlineData(100, 95.1)]
    public void White_on_black_grows_lighter_with_the_film(double um, double lightness)
    {
        Assert.Equal(lightness, Printed(Black, Film("white", um)).L, 0.2);
    }

    // Masstone, and 14 um on white and on black cloth.
    [Theory]
    [InlineData("process-yellow", 83, 7, 93, 88, 2, 101, 56, -23, 49)]
    [InlineData("process-magenta", 32, 47, 10, 43, 73, -6, 24, 17, 1)]
    [InlineData("bright-yellow", 84, 7, 92, 88, 2, 99, 62, -18, 57)]
    [InlineData("warm-yellow", 79, 29, 95, 82, 24, 100, 57, 0, 57)]
    [InlineData("orange", 60, 65, 65, 64, 65, 71, 43, 31, 36)]
    [InlineData("red", 45, 68, 42, 48, 73, 47, 36, 45, 28)]
    [InlineData("fuchsia", 35, 51, 2, 42, 69, -2, 29, 27, -6)]
    [InlineData("violet", 25, 16, -25, 26, 28, -42, 25, 13, -20)]
    [InlineData("royal-blue", 24, 9, -35, 26, 24, -60, 23, 3, -24)]
    [InlineData("green", 36, -42, 14, 43, -62, 23, 33, -34, 10)]
    [InlineData("mid-grey", 70, -1, -1, 72, 0, 0, 69, -1, -2)]
    [InlineData("black", 12, 0, 0, 12, 0, 0, 12, 0, 0)]
    public void Each_default_ink_has_its_computed_colours(
        string ink,
        double l1,
        double a1,
        double b1,
        double l2,
        double a2,
        double b2,
        double l3,
        double a3,
        double b3
    )
    {
        Near(new(l1, a1, b1), Printed(White, Film(ink, 5000)), 1.1);
        Near(new(l2, a2, b2), Printed(White, Film(ink, 14)), 1.1);
        Near(new(l3, a3, b3), Printed(Black, Film(ink, 14)), 1.1);
    }

    [Fact]
    public void White_on_red_cloth_is_pink_after_one_thin_film_and_nearly_neutral_after_a_thick_one()
    {
        var thin = Printed(Red, Film("white", 10));
        var one = Printed(Red, Film("white", 27));
        var two = Printed(Red, Film("white", 50));

        Assert.InRange(thin.A, 5, 9);
        Assert.InRange(one.A, 1.2, 3.2);
        Assert.InRange(Math.Abs(two.A), 0, 1);
        Assert.InRange(Rough(10).L, 75, 79);
        Assert.InRange(Rough(27).L, 84, 88);
        Assert.InRange(Rough(50).L, 90, 92);

        // The rough film of the table: thickness varying by half its mean, 5 % standing fibres, nothing sunk in.
        Lab Rough(double um) =>
            LabOf(
                Solid.Colour(
                    Red,
                    [new PrintedLayer(Ink("white"), um, ThicknessSpread.Gamma(0.5), 0)],
                    PressSettings.Automatic with
                    {
                        BareFibreFirstPass = 0.05,
                    }
                )
            );
    }

    [Fact]
    public void Transparent_inks_on_black_without_a_base_vanish()
    {
        var cyan = Printed(Black, Film("process-cyan", 14));
        var magenta = Printed(Black, Film("process-magenta", 14));
        var yellow = Printed(Black, Film("process-yellow", 14));

        Assert.True(cyan is { L: < 20, Chroma: < 5 }, $"cyan {cyan}");
        Assert.True(magenta.Chroma < 25, $"magenta {magenta}");
        Assert.InRange(yellow.L, 50, 62);
        Assert.InRange(yellow.A, -25, -18);
    }

    [Theory]
    [InlineData("process-yellow")]
    [InlineData("process-magenta")]
    [InlineData("process-cyan")]
    [InlineData("warm-yellow")]
    [InlineData("orange")]
    [InlineData("red")]
    public void Colours_on_a_one_pass_base_are_duller_than_on_a_two_pass_base(string ink)
    {
        var mesh = Mesh("61-64");
        var white = new InkPass(Ink("white"), mesh, 1, true);
        var colour = new InkPass(Ink(ink), Mesh("120-34"), 1, false);

        var onOne = SolidOf(Black, Deposit.Expected, white, colour);
        var onTwo = SolidOf(Black, Deposit.Expected, white, white, colour);

        Assert.InRange(onTwo.L - onOne.L, 1, 6);
        Assert.InRange(onTwo.Chroma - onOne.Chroma, 2, 10);
    }

    // Thin water-based pigment: on white cloth all is well, on black it fades or vanishes.
    [Fact]
    public void Water_based_pigment_fades_on_dark_cloth_and_not_on_white_cloth()
    {
        Near(new(92, -7, 83), Printed(White, InCloth(2.5, Pigment.Yellow)), 1);
        Near(new(61, 61, 16), Printed(White, InCloth(2.5, Pigment.Red)), 1);
        Near(new(59, -38, -52), Printed(White, InCloth(1.2, Pigment.Blue)), 1);
        // The floor that stands for surface reflection (InkMix) lifts black by 2 L* over the value without it, 25.
        Assert.Equal(25, Printed(White, InCloth(1, Pigment.Black)).L, 2.5);

        Assert.InRange(Printed(Black, InCloth(1, Pigment.White)).L, 30, 45);
        Assert.InRange(Printed(Black, InCloth(2.5, Pigment.Yellow)).L, 25, 36);
        Assert.InRange(Printed(Black, InCloth(2.5, Pigment.Red)).L, 17, 27);
        Assert.InRange(Ciede2000.Difference(LabOf(Black), Printed(Black, InCloth(1.2, Pigment.Blue))), 0.5, 5);
    }

    [Fact]
    public void Water_based_colour_on_red_cloth_multiplies()
    {
        Assert.Equal(23, Printed(Red, InCloth(1.2, Pigment.Blue)).L, 5.0);
        Near(new(49, 33, 31), Printed(Red, InCloth(2.5, Pigment.Yellow)), 5);
    }

    [Fact]
    public void A_high_solids_base_lets_water_based_colours_show_on_black()
    {
        var white = new InkPass(Ink("wb-white-base"), Mesh("48-70"), 1, true);
        var yellow = new InkPass(Ink("wb-bright-yellow"), Mesh("77-55"), 1, false);

        var without = SolidOf(Black, Deposit.Expected, yellow);
        var with = SolidOf(Black, Deposit.Expected, white, white, yellow);

        Assert.True(without is { L: < 40, B: < 25 }, $"without {without}");
        Assert.True(with is { L: > 78, B: > 70 }, $"with {with}");
    }

    [Fact]
    public void The_order_of_two_inks_matters()
    {
        Near(new(63, -19, 57), Printed(White, Film("royal-blue", 14), Film("bright-yellow", 14)), 3);
        Near(new(24, 2, -26), Printed(White, Film("bright-yellow", 14), Film("royal-blue", 14)), 3);
        Near(new(76, -9, 75), Printed(White, Film("royal-blue", 14), Film("opaque-yellow", 20)), 3);
    }

    [Fact]
    public void White_print_on_a_brightened_white_shirt_looks_creamy()
    {
        var shirt = Brightened(0.25);

        var print = SolidOf(shirt, Deposit.Expected, new InkPass(Ink("white"), Mesh("61-64"), 1, true));

        Assert.InRange(print.B - LabOf(shirt).B, 6, 12);
    }

    [Fact]
    public void Brightened_cloth_is_bluer_and_can_send_back_more_light_than_falls_on_it()
    {
        // Peak 0.30 on bleached cotton: Lab 94.8, 3.7, -9.3, computed independently.
        Near(new(94.8, 3.7, -9.3), LabOf(Brightened(0.3)), 0.1);
        Assert.True(Brightener.Radiance(Brightened(0.3).Colour)[6] > 1);
    }

    [Fact]
    public void The_darkest_print_is_never_black_and_the_whitest_never_white()
    {
        var inks = InkLibrary.Default;
        var darkest = inks.SelectMany(below =>
            inks.Where(above => above.Convention == below.Convention)
                .Select(above => Printed(Black, PrintedLayer.Film(below, 20), PrintedLayer.Film(above, 20)).L)
        );
        var whitest = inks.Where(ink => ink.Role == InkRole.White)
            .Select(ink =>
                Printed(
                    White,
                    PrintedLayer.Film(
                        ink,
                        ink.SheetUm > 0 ? ink.SheetUm
                            : ink.Kind == InkKind.Jet ? 20
                            : 100
                    )
                ).L
            );

        Assert.InRange(darkest.Min(), 10, 18);
        Assert.InRange(whitest.Max(), 90, 96);
    }

    // In every band the reflectance runs from the cloth's to the endless film's and never turns back.
    [Fact]
    public void More_ink_moves_the_colour_towards_the_inks_own_and_never_past_it()
    {
        var grounds = new[] { White, Black, Red, Royal };
        Gen.Select(Gen.Int[0, InkLibrary.Default.Length - 1], Gen.Int[0, 3], Gen.Double[0.1, 60])
            .Sample(
                (i, g, um) =>
                {
                    var ink = InkLibrary.Default[i];
                    Spectrum At(double x) =>
                        InkOnCloth.Reflectance(grounds[g], [PrintedLayer.Film(ink, x)], new(0, false));
                    var (less, more, endless) = (At(um), At(1.2 * um), At(1e5));
                    return Enumerable
                        .Range(0, Spectrum.Bands)
                        .All(band =>
                            (more[band] - less[band]) * Math.Sign(endless[band] - less[band]) >= -1e-12
                            && (endless[band] - more[band]) * Math.Sign(endless[band] - less[band]) >= -1e-12
                        );
                }
            );
    }

    [Fact]
    public void A_fibre_that_stands_through_shows_the_cloth_stained_by_the_ink()
    {
        var dry = new PrintedLayer(Ink("black"), 20, ThicknessSpread.Even, 0);
        var sunk = new PrintedLayer(Ink("black"), 20, ThicknessSpread.Even, 0.25);

        var standing = InkOnCloth.Reflectance(White, [dry], new(0, true));
        var stained = LabOf(InkOnCloth.Reflectance(White, [sunk], new(0, true)));

        Near(LabOf(White), LabOf(standing), 1e-9);
        Assert.True(stained.L < 30, $"stained {stained}");
    }

    // On pale cloth no white fleck may show through blue on a white base: the fibre takes some of the blue.
    [Fact]
    public void A_fibre_that_stands_through_base_and_colour_is_stained_by_both()
    {
        var white = new InkPass(Ink("wb-white-base"), Mesh("48-70"), 1, true);
        var blue = new InkPass(Ink("wb-royal-blue"), Mesh("77-55"), 1, false);
        var layers = DepositModel.Layers([white, blue], 3, PressSettings.Automatic, Deposit.Expected);

        var fibre = LabOf(InkOnCloth.Reflectance(White, layers, new(4, true)));
        var film = LabOf(InkOnCloth.Reflectance(White, layers, new(4, false)));

        Assert.True(fibre.B < -40, $"fibre {fibre}");
        Assert.InRange(fibre.L - film.L, -5, 20);
    }

    [Fact]
    public void Inks_of_two_surface_corrections_are_not_stacked()
    {
        PrintedLayer[] layers = [Film("wb-red", 5), Film("white", 20)];

        var error = Assert.Throws<ArgumentException>(() => InkOnCloth.Reflectance(White, layers, new(0, false)));

        const string message =
            "ink \"White\" cannot be printed over \"Red\" here: their absorption and scattering were found with different surface corrections (k1 0.04, k2 0.6, ki 0.012 and none); choose inks of one kind, or measure both with the same correction";
        Assert.Equal(message, error.Message);
        Assert.Equal(message, InkOnCloth.Refusal(layers));
        Assert.Null(InkOnCloth.Refusal([layers[0], layers[0]]));
    }
}
