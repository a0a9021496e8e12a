using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using static ProofDesk.Printing.Tests.Presses.Cloths;

namespace ProofDesk.Printing.Tests.Presses;

public sealed class DepositModelTests
{
    private static readonly PressSettings Press = PressSettings.Automatic;
    private static readonly InkPass White = new(Ink("white"), Mesh("61-64"), 1, true);
    private static readonly InkPass Yellow = new(Ink("bright-yellow"), Mesh("90-40"), 1, false);
    private static readonly InkPass Red = new(Ink("red"), Mesh("90-40"), 1, false);

    // Hand calculation: volume 35.7 um x transfer 0.75 x solids 0.99 = 26.5 um.
    [Fact]
    public void The_film_is_mesh_volume_times_transfer_times_solids()
    {
        var um = DepositModel.FilmUm(Mesh("61-64"), Ink("white"), Press, 1, false, Deposit.Expected);

        Assert.Equal(26.5, um, 0.1);
    }

    [Fact]
    public void Thin_and_thick_ends_are_a_fifth_less_and_more()
    {
        double Um(Deposit deposit) => DepositModel.FilmUm(Mesh("61-64"), Ink("white"), Press, 1, false, deposit);

        Assert.Equal(0.8, Um(Deposit.Light) / Um(Deposit.Expected), 1e-12);
        Assert.Equal(1.2, Um(Deposit.Heavy) / Um(Deposit.Expected), 1e-12);
    }

    // One stroke 26.5; two strokes on one screen 1.35 of it; a second pass after a flash, 1.9.
    [Fact]
    public void Two_strokes_on_one_screen_are_not_print_flash_print()
    {
        var one = Total([White]);
        var doubled = Total([White with { Strokes = 2 }]);
        var printFlashPrint = Total([White, White]);

        Assert.Equal(1.35, doubled / one, 1e-9);
        Assert.Equal(1.9, printFlashPrint / one, 1e-9);
    }

    [Fact]
    public void Wet_ink_on_wet_ink_is_trapped_in_part_and_a_flash_between_ends_that()
    {
        var alone = DepositModel.Layers([Red], 1, Press, Deposit.Expected)[0].FilmUm;
        var wet = DepositModel.Layers([Yellow, Red], 3, Press, Deposit.Expected)[1].FilmUm;
        var flashed = DepositModel
            .Layers([Yellow with { FlashAfter = true }, Red], 3, Press, Deposit.Expected)[1]
            .FilmUm;

        Assert.Equal(0.85, wet / alone, 1e-9);
        Assert.Equal(0.9, flashed / alone, 1e-9);
    }

    [Fact]
    public void A_colour_beside_the_base_lands_on_cloth_as_if_there_were_no_base()
    {
        var beside = DepositModel.Layers([White, Red], 2, Press, Deposit.Expected);
        var alone = DepositModel.Layers([Red], 1, Press, Deposit.Expected);

        Assert.Equal(alone[0].FilmUm, beside[0].FilmUm);
        Assert.Equal(alone[0].InClothShare, beside[0].InClothShare);
        Assert.Equal(alone[0].Spread.Cv, beside[0].Spread.Cv);
    }

    [Fact]
    public void The_first_plastisol_pass_partly_sinks_in_and_later_ones_lie_on_top()
    {
        var layers = DepositModel.Layers([White, Red], 3, Press, Deposit.Expected);

        Assert.Equal([0.25, 0], layers.Select(layer => layer.InClothShare));
    }

    [Fact]
    public void Water_based_colour_sinks_into_cloth_but_not_through_a_high_solids_base()
    {
        var white = new InkPass(Ink("wb-white-base"), Mesh("48-70"), 1, true);
        var red = new InkPass(Ink("wb-red"), Mesh("77-55"), 1, false);

        var layers = DepositModel.Layers([white, red], 3, Press, Deposit.Expected);
        var alone = DepositModel.Layers([white, red], 2, Press, Deposit.Expected);

        Assert.Equal([0.5, 0], layers.Select(layer => layer.InClothShare));
        Assert.Equal(0.9, alone[0].InClothShare, 1e-12);
    }

    [Fact]
    public void Two_wet_strokes_are_greyer_than_print_flash_print()
    {
        var printFlashPrint = SolidOf(Black, Deposit.Expected, White, White);
        var twoWetStrokes = SolidOf(Black, Deposit.Expected, White with { Strokes = 2 });

        Assert.True(twoWetStrokes.L < printFlashPrint.L - 4, $"{twoWetStrokes} and {printFlashPrint}");
    }

    // The trade's bounds: one pass at 61-64 a mottled 70 to 86 (expected 76 to 84), print-flash-print 86 to 92, a little blue.
    [Fact]
    public void One_pass_of_white_on_black_is_greyish_and_print_flash_print_is_white()
    {
        foreach (var deposit in Enum.GetValues<Deposit>())
        {
            var one = SolidOf(Black, deposit, White);
            var two = SolidOf(Black, deposit, White, White);

            Assert.InRange(one.L, 76, 84);
            Assert.InRange(one.B, -2.5, 0);
            Assert.InRange(two.L, 86, 92);
        }
    }

    [Fact]
    public void No_mesh_gives_a_one_pass_white_above_90()
    {
        foreach (var mesh in Meshes.Default)
            Assert.True(SolidOf(Black, Deposit.Expected, White with { Mesh = mesh }).L < 90, mesh.Label);
    }

    [Theory]
    [InlineData("43-80")]
    [InlineData("61-64")]
    [InlineData("77-55")]
    public void The_second_pass_adds_much_and_the_third_little(string mesh)
    {
        var pass = White with { Mesh = Mesh(mesh) };
        var one = SolidOf(Black, Deposit.Expected, pass).L;
        var two = SolidOf(Black, Deposit.Expected, pass, pass).L;
        var three = SolidOf(Black, Deposit.Expected, pass, pass, pass).L;

        // 5 to 9 for an even press; the standing fibres the second pass covers add up to 1.5.
        Assert.InRange(two - one, 5, 10.5);
        Assert.InRange(three - two, 1, 3);
    }

    [Fact]
    public void No_strokes_are_refused_with_the_number()
    {
        var error = Assert.Throws<ArgumentOutOfRangeException>(() =>
            DepositModel.FilmUm(Mesh("61-64"), Ink("white"), Press, 0, false, Deposit.Expected)
        );

        Assert.StartsWith(
            "a screen is printed with 0 strokes, at least 1 is needed",
            error.Message,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Each_code_names_the_screens_that_printed_there()
    {
        var colours = new ClothColour(Black, [White, Yellow, Red], Press, Deposit.Expected);

        Assert.Equal(["white", "red"], colours.Layers(0b101).Select(layer => layer.Ink.Id));
        Assert.Equal(LabOf(Black), colours.SolidLab(0, ViewingLight.D50));
        Assert.Equal(SolidOf(Black, Deposit.Expected, White, Red), colours.SolidLab(0b101, ViewingLight.D50));
        Assert.NotEqual(colours.SolidLab(0b101, ViewingLight.D50), colours.SolidLab(0b101, ViewingLight.D65));
        Assert.Equal(1, colours.BareFibreShare(0));
        Assert.Equal(0.10, colours.BareFibreShare(0b1), 1e-12);
        Assert.Equal(0.03, colours.BareFibreShare(0b101), 1e-12);
    }

    private static double Total(ImmutableArray<InkPass> passes) =>
        DepositModel.Layers(passes, (1UL << passes.Length) - 1, Press, Deposit.Expected).Sum(layer => layer.FilmUm);
}
