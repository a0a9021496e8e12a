using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Tests.Separations;

public class ToneCompensationTests
{
    // Physics 1.15, tone gains of Euclidean dots in % at 5, 10, 30, 50, 70 and 90 %. The table is rounded to 1 %.
    [Theory]
    [InlineData(55, 20, new[] { 4, 5, 9, 12, 8, 4 })]
    [InlineData(55, 30, new[] { 6, 8, 14, 17, 11, 6 })]
    [InlineData(45, 40, new[] { 7, 10, 15, 18, 12, 6 })]
    [InlineData(35, 20, new[] { 2, 3, 6, 7, 5, 3 })]
    [InlineData(65, 40, new[] { 11, 15, 23, 25, 17, 8 })]
    public void Growth_gains_what_the_table_of_the_brief_says(double lpi, double um, int[] gains)
    {
        var curve = new ToneCompensation(lpi, um, DotShape.Euclidean);

        double[] tones = [0.05, 0.1, 0.3, 0.5, 0.7, 0.9];
        for (var i = 0; i < tones.Length; i++)
            Assert.InRange(100 * (curve.Printed(tones[i]) - tones[i]), gains[i] - 1.5, gains[i] + 1.5);
    }

    // Physics 3.3: film tones that print 25, 50 and 75 %.
    [Theory]
    [InlineData(55, 20, new[] { 18, 40, 67 })]
    [InlineData(55, 45, new[] { 11, 29, 53 })]
    [InlineData(45, 30, new[] { 17, 38, 65 })]
    public void Film_tones_are_those_of_the_brief(double lpi, double um, int[] films)
    {
        var curve = new ToneCompensation(lpi, um, DotShape.Euclidean);

        for (var i = 0; i < 3; i++)
            Assert.InRange(100 * curve.Film(0.25 * (i + 1)), films[i] - 1.5, films[i] + 1.5);
    }

    [Theory]
    [InlineData(DotShape.Round)]
    [InlineData(DotShape.Euclidean)]
    [InlineData(DotShape.Elliptical)]
    public void A_compensated_tone_prints_as_wanted(DotShape dot)
    {
        var curve = new ToneCompensation(45, 35, dot);

        for (var wanted = 0.05; wanted < 0.96; wanted += 0.05)
            Assert.Equal(wanted, curve.Printed(curve.Film(wanted)), 1e-9);
    }

    [Fact]
    public void Without_growth_film_and_print_are_the_same()
    {
        var curve = new ToneCompensation(45, 0, DotShape.Elliptical);

        for (var tone = 0.0; tone <= 1; tone += 0.1)
            Assert.Equal(tone, curve.Film(tone), 1e-12);
    }

    [Fact]
    public void More_ink_on_film_never_prints_less()
    {
        var curve = new ToneCompensation(55, 35, DotShape.Elliptical);

        for (var i = 1; i <= 100; i++)
            Assert.True(curve.Printed(i / 100.0) >= curve.Printed((i - 1) / 100.0));
    }

    // Physics 1.13 gives 8.4 % for 90-40 and 5.1 % for 120-34 at 55 lpi.
    [Theory]
    [InlineData("90-40", 8.4)]
    [InlineData("120-34", 5.1)]
    public void The_smallest_tone_of_a_mesh_is_a_dot_of_two_threads_and_an_opening(string mesh, double percent) =>
        Assert.Equal(percent, 100 * ToneCompensation.SmallestHeldTone(Meshes.Find(mesh)!, 55), 0.15);

    [Fact]
    public void Numbers_that_make_no_dots_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new ToneCompensation(0, 30, DotShape.Round));
        Assert.Throws<ArgumentException>(() => new ToneCompensation(double.NaN, 30, DotShape.Round));
        Assert.Throws<ArgumentException>(() => new ToneCompensation(45, -1, DotShape.Round));
    }
}
