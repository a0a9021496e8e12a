using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Tests.Proofs;

public sealed class InkListTests
{
    [Fact]
    public void Grams_follow_from_area_and_mesh_by_hand()
    {
        // 61-64: q = 163.93 um, w = 99.93, open area 0.3716, thickness 96 um: 35.67 cm3/m2. 400 cm2 are 0.04 m2.
        var ink = InkLibrary.Find("white")!;

        var grams = MethodPress.Screens.Grams(400, new(ink, new Mesh(61, 64), 1, false));

        Assert.Equal(0.04 * 35.674 * ink.DensityGramsPerCm3, grams, 0.001);
    }

    [Fact]
    public void A_second_stroke_on_the_wet_screen_adds_about_a_third()
    {
        var ink = InkLibrary.Find("white")!;

        var one = MethodPress.Screens.Grams(400, new(ink, new Mesh(61, 64), 1, false));
        var two = MethodPress.Screens.Grams(400, new(ink, new Mesh(61, 64), 2, false));

        Assert.Equal(1.35, two / one, 1e-9);
    }

    [Theory]
    // 200 g flood + 2 g x (100 + 3) x 1.6 = 529.6
    [InlineData(2, 100, 530)]
    // 200 g flood + 2 g x (10 + 1) x 1.6 = 235.2
    [InlineData(2, 10, 240)]
    // A sleeve logo still wants a screen that floods.
    [InlineData(0.01, 1, 210)]
    public void Grams_to_mix_hold_the_flood_the_spoilage_and_real_use(double perPrint, int quantity, double mix)
    {
        Assert.Equal(mix, InkListMaker.GramsToMix(perPrint, quantity));
    }

    [Theory]
    [InlineData("Red", "Red")]
    [InlineData("Red, warm", "\"Red, warm\"")]
    [InlineData("Red \"hot\"", "\"Red \"\"hot\"\"\"")]
    [InlineData("=cmd|' /C calc'!A0", "'=cmd|' /C calc'!A0")]
    [InlineData("@sum", "'@sum")]
    [InlineData("-1+1", "'-1+1")]
    [InlineData("\n=1", "\"'\n=1\"")]
    public void Text_in_csv_is_quoted_and_never_a_formula(string text, string cell)
    {
        Assert.Equal(cell, InkListCsv.Text(text));
    }
}
