using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;
using static ProofDesk.Printing.Tests.Methods.MethodBench;

namespace ProofDesk.Printing.Tests.Methods;

/// <summary>A discharge base under plastisol: common practice, measured on printed solids.</summary>
public sealed class DischargeBaseTests
{
    private static readonly SpotSettings OnDischarge = new() { Base = BaseChoice.Discharge };

    [Fact]
    public void The_base_plate_holds_discharge_and_plastisol_lies_on_it()
    {
        var separation = Separate("plastisol", Patch("#d22630"), OnDischarge, Black);

        Assert.Equal([PlatePurpose.DischargeBase, PlatePurpose.Spot], separation.Plates.Select(p => p.Purpose));
        Assert.Equal(("Discharge base", "discharge-base"), (separation.Plates[0].Name, separation.Plates[0].Ink.Id));
        Assert.Equal("61-64", separation.Plates[0].Mesh.Label);
        Assert.Equal(
            "discharge base under 1 of 1 colours on black: it was asked for",
            separation.Grounds[0].Runs[0].Reason
        );
        Assert.Equal(
            "prints; the cloth under it is discharged where the base runs",
            separation.Grounds[0].Runs[1].Reason
        );
    }

    [Fact]
    public void White_art_gets_a_screen_of_plastisol_white_on_the_discharged_cloth()
    {
        var separation = Separate("plastisol", Patch("#ffffff"), OnDischarge, Black);

        Assert.Equal(["discharge-base", "white"], separation.Plates.Select(p => p.Ink.Id));
        var onDischarge = separation.Print().Solid().L;
        var onBlack = Separate("plastisol", Patch("#ffffff"), new() { Base = BaseChoice.None }, Black)
            .Print()
            .Solid()
            .L;
        Assert.InRange(onDischarge, onBlack + 4, 94);
    }

    [Fact]
    public void A_colour_on_discharged_cloth_lies_between_bare_cloth_and_a_white_base()
    {
        double Chroma(BaseChoice choice) =>
            Separate("plastisol", Patch("#d22630"), With(Ink("red"), Ink("white")) with { Base = choice }, Black)
                .Print()
                .Solid()
                .Chroma;

        var (bare, discharged, white) = (
            Chroma(BaseChoice.None),
            Chroma(BaseChoice.Discharge),
            Chroma(BaseChoice.White)
        );

        Assert.True(bare + 8 < discharged && discharged < white, $"{bare:0.0} {discharged:0.0} {white:0.0}");
    }

    // Common practice: the print is softer and thinner by the white layer.
    [Fact]
    public void It_is_said_how_much_thinner_the_print_is()
    {
        var separation = Separate("plastisol", Patch("#d22630"), OnDischarge, Black);

        Assert.Equal(
            new Finding(
                "softer-than-a-white-base",
                FindingWeight.Note,
                "colours lie 20 um thick on discharged cloth, 44 um with a white base under them: thinner and softer, and duller, because the cloth turns off-white at best",
                "nothing, or ask for --base white where colours must be brilliant",
                20,
                44,
                "um"
            ),
            separation.Findings.Single(f => f.Code == "softer-than-a-white-base")
        );
    }

    [Fact]
    public void It_rests_on_white_cloth_and_refuses_cloth_that_cannot_be_discharged()
    {
        var sulphur = Tee("Black", Black.Colour.Reflectance, 1, ("sulphur-black", 1, null));

        var both = Separate("plastisol", Patch("#d22630"), OnDischarge, Black, White);
        var refused = Separate("plastisol", Patch("#d22630"), OnDischarge, sulphur);

        Assert.False(both.Grounds[1].Runs[0].Runs);
        Assert.Equal("rests on white: there is no dye to take out", both.Grounds[1].Runs[0].Reason);
        Assert.DoesNotContain(both.Findings, f => f.Weight == FindingWeight.Refusal);
        Assert.Equal(
            new Finding(
                "cannot-be-discharged",
                FindingWeight.Refusal,
                "black is dyed with sulphur black, of which discharge leaves 70 %",
                "choose another method or a garment that the maker calls dischargeable"
            ),
            refused.Findings.Single(f => f.Weight == FindingWeight.Refusal)
        );
    }
}
