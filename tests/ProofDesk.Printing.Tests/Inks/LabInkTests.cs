using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.Inks;

public sealed class LabInkTests
{
    [Theory]
    [InlineData(45, 66, 40, InkKind.Plastisol)]
    [InlineData(26, 22, -55, InkKind.Plastisol)]
    [InlineData(86, -2, 88, InkKind.Plastisol)]
    [InlineData(60, -35, 12, InkKind.Plastisol)]
    [InlineData(72, 25, 5, InkKind.Plastisol)]
    [InlineData(30, -8, -12, InkKind.Plastisol)]
    [InlineData(50, 5, 15, InkKind.Plastisol)]
    [InlineData(88, 0, 4, InkKind.Plastisol)]
    [InlineData(55, 55, 30, InkKind.WaterBased)]
    [InlineData(40, 5, -40, InkKind.WaterBased)]
    public void The_solid_on_white_cloth_has_the_Lab_that_was_measured(double l, double a, double b, InkKind kind)
    {
        var wanted = new Lab(l, a, b);
        var definition = new InkDefinition("club-ink", "Club ink", kind, InkRole.Colour)
        {
            Solid = new(wanted, ViewingLight.D50, "77-55"),
        };

        var reading = definition.Make("inks.json");

        Assert.Empty(reading.Problems);
        var printed = InkSwatch.Printed(reading.Ink!, InkSwatch.WhiteCloth, Cloths.Mesh("77-55"), ViewingLight.D50);
        Assert.True(Ciede2000.Difference(wanted, printed) <= 0.5, $"{printed}");
        Assert.Equal(DataClass.B, reading.Ink!.DataClass);
        Assert.All(
            Enumerable.Range(0, Spectrum.Bands),
            i => Assert.True(reading.Ink.AbsorptionPerUm[i] > 0 && reading.Ink.ScatteringPerUm[i] > 0)
        );
    }

    // The default red, known only by its Lab, is the default red again: also on a cloth it was not measured on.
    [Fact]
    public void A_default_ink_known_by_its_Lab_alone_is_found_again()
    {
        var red = Cloths.Ink("red");
        var solid = InkSwatch.Printed(red, InkSwatch.WhiteCloth, Cloths.Mesh("61-64"), ViewingLight.D65);

        var again = new InkDefinition("our-red", "Our red", InkKind.Plastisol, InkRole.Colour)
        {
            Solid = new(solid, ViewingLight.D65, "61-64"),
        }
            .Make("inks.json")
            .Ink!;

        var off = Ciede2000.Difference(
            InkSwatch.Printed(red, Cloths.Black, Cloths.Mesh("61-64"), ViewingLight.D50),
            InkSwatch.Printed(again, Cloths.Black, Cloths.Mesh("61-64"), ViewingLight.D50)
        );
        Assert.True(off < 0.2, $"{off:0.00} dE00");
    }

    [Fact]
    public void A_Lab_that_no_ink_prints_is_refused_with_the_nearest()
    {
        var reading = new InkDefinition("neon", "Neon", InkKind.Plastisol, InkRole.Colour)
        {
            Solid = new(new(95, -110, 90), ViewingLight.D50, "61-64"),
        }.Make("inks.json");

        var problem = Assert.Single(reading.Problems);
        Assert.Equal("lab-not-reached", problem.Code);
        Assert.Matches(
            "^inks.json: lab: no ink prints 95.0 -110.0 90.0 on white cloth through mesh 61-64: the nearest is [0-9. -]+, [0-9]+.[0-9] dE00 away; "
                + "see whether L\\*, a\\*, b\\*, the light and the mesh are right, or measure over black and white$",
            problem.ToString()
        );
    }

    [Fact]
    public void What_one_Lab_cannot_tell_is_said()
    {
        var reading = new InkDefinition("our-white", "Our white", InkKind.Plastisol, InkRole.White)
        {
            Solid = new(new(93, -1, 3), ViewingLight.D50, "61-64"),
        }.Make("inks.json");

        Assert.Equal<string>(
            [
                "from one Lab on white cloth: how well the ink hides is that of our default \"Natural\"; a film over black and white would measure it",
                "a white or very pale solid on white cloth says next to nothing about hiding: measure it over black too",
            ],
            reading.Warnings
        );
    }
}
