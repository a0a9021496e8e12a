using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Proofs;

public sealed class SecondLightTests
{
    [Fact]
    public void A_colour_matches_itself_in_every_light()
    {
        var red = Cloths.Red.Colour.Reflectance;

        Assert.Equal(new SecondLight(0, 0, 0), SecondLight.Between(red, red));
    }

    // A grey of three narrow dyes against a flat grey, amounts solved so that they match under D65: the classic pair.
    [Fact]
    public void Two_greys_that_match_in_daylight_differ_under_a_lamp_and_a_tube()
    {
        var flat = Spectrum.Flat(0.3);
        var threeDyes = MatchedTo(flat);

        var difference = SecondLight.Between(flat, threeDyes);

        Assert.InRange(difference.UnderD65, 0, 0.2);
        Assert.True(difference.UnderA > 3, $"{difference}");
        Assert.True(difference.UnderF11 > 3, $"{difference}");
        Assert.True(difference.IsMetameric);
        Assert.Equal(difference.UnderA >= difference.UnderF11 ? "A" : "F11", difference.WorstLight);
        Assert.Equal(Math.Max(difference.UnderA, difference.UnderF11), difference.Worst);
    }

    [Theory]
    [InlineData(1, 3.9, 1, false)] // widens too little
    [InlineData(1, 4, 1, true)]
    [InlineData(2.5, 1, 5.6, true)]
    [InlineData(3.5, 9, 9, false)] // never matched
    public void A_match_falls_apart_when_it_widens_by_three_units(double d65, double a, double f11, bool apart)
    {
        Assert.Equal(apart, new SecondLight(d65, a, f11).IsMetameric);
    }

    // Multiplicative dyes with narrow bands; Newton on three amounts for the Lab of the target.
    private static Spectrum MatchedTo(Spectrum target)
    {
        var wanted = SecondLight.Look(target, ViewingLight.D65TenDegrees);
        double[] amounts = [0.8, 0.8, 0.8];
        for (var round = 0; round < 200; round++)
        {
            var here = SecondLight.Look(Dyed(amounts), ViewingLight.D65TenDegrees);
            // Red-absorbing dye: a*, green-absorbing: L* and a*, blue-absorbing: b*.
            amounts[0] += 0.01 * (here.A - wanted.A + (here.L - wanted.L));
            amounts[1] += 0.01 * (here.L - wanted.L - (here.A - wanted.A));
            amounts[2] += 0.01 * (here.L - wanted.L - (here.B - wanted.B));
        }
        return Dyed(amounts);
    }

    private static Spectrum Dyed(double[] amounts) =>
        Spectrum.From(nm =>
            0.85
            * Math.Exp(
                -amounts[0] * Band(nm, 630, 22) - amounts[1] * Band(nm, 540, 20) - amounts[2] * Band(nm, 445, 20)
            )
        );

    private static double Band(double nm, double centre, double width) =>
        2 * Math.Exp(-Math.Pow((nm - centre) / width, 2) / 2);
}
