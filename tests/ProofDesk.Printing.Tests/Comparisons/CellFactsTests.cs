using ProofDesk.Printing.Comparisons;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Tests.Methods;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Comparisons;

/// <summary>What stands under the picture of a cell, from small whole proofs.</summary>
public sealed class CellFactsTests
{
    // Two flat colours, 20 mm wide.
    private static CellFacts FactsOf(string method, Ground ground)
    {
        var art = new TestArt(160, 80).Rectangle("#c8332b", 0, 0, 80, 80).Rectangle("#173b7a", 80, 0, 160, 80);
        var proof = PrintMethods.Find(method)!.Prove(art, 20, ground);
        return CellFacts.Of(proof, proof.Grounds[0]);
    }

    [Fact]
    public void On_pale_cloth_a_stencil_or_the_mesh_sets_the_smallest_detail()
    {
        var facts = FactsOf("plastisol", MethodBench.White);

        Assert.Equal(2, facts.Screens);
        Assert.Equal(2, facts.Inks.Length);
        Assert.InRange(facts.DetailMm!.Value, SmallestDetail.LeastLineMm, 0.35);
    }

    [Fact]
    public void A_base_needs_twice_its_choke_and_what_holds_of_it()
    {
        var facts = FactsOf("plastisol", MethodBench.Black);

        // One screen more, and 2 x 0.15 + 0.25 mm on an automatic press.
        Assert.Equal(3, facts.Screens);
        Assert.Equal(0.55, facts.DetailMm!.Value, 1e-9);
        Assert.Equal("a base that stays 0.15 mm inside the colour on either side", facts.DetailWhy);
    }

    [Fact]
    public void A_sheet_is_cut_no_narrower_than_it_can_be_weeded_and_has_no_screens_or_heads()
    {
        var facts = FactsOf("vinyl", MethodBench.Black);

        Assert.Equal((0, "none"), (facts.Screens, facts.HeadsWords));
        Assert.Equal((1.0, "what can be weeded and holds on a garment"), (facts.DetailMm!.Value, facts.DetailWhy));
    }

    [Fact]
    public void White_under_jetted_colours_doubles_the_smallest_detail()
    {
        var facts = FactsOf("direct-to-garment", MethodBench.Black);

        Assert.Equal(SmallestDetail.JetOnWhiteMm, facts.DetailMm);
        Assert.Equal("white and colours meet within a tenth of a millimetre", facts.DetailWhy);
        Assert.Equal(("none", "ink"), (facts.HeadsWords, facts.Matter));
    }

    [Fact]
    public void Jetted_white_is_a_film_of_8_to_20_um_that_a_hand_feels()
    {
        var jet = PrintMethods.Find("direct-to-garment")!.Press;
        var white = new InkPass(InkLibrary.Find("jet-white")!, Mesh.None, 1, false);

        // [PHYSICS] 3.2: 60 to 120 ml/m2 of .13 to .17 solids.
        Assert.InRange(jet.FilmAboveClothUm(white, PressSettings.Automatic), 6, 20);
        Assert.InRange(
            jet.FilmAboveClothUm(white with { Ink = InkLibrary.Find("jet-cyan")! }, PressSettings.Automatic),
            0,
            2
        );
    }

    [Fact]
    public void Foil_says_that_it_mirrors_and_needs_more_adhesive_than_a_stencil_would()
    {
        var facts = FactsOf("foil", MethodBench.Black);

        Assert.Equal(SmallestDetail.FoilMm, facts.DetailMm);
        Assert.Contains("it mirrors: the picture is one moment under one light", facts.NotShown);
    }

    [Fact]
    public void Ink_is_said_for_a_hundred_prints_and_adds_up_from_the_ink_list()
    {
        var art = new TestArt(160, 80).Rectangle("#c8332b", 0, 0, 160, 80);
        var proof = PrintMethods.Find("plastisol")!.Prove(art, 20, MethodBench.Black);
        var ground = proof.Grounds[0];

        var facts = CellFacts.Of(proof, ground);

        Assert.Equal(ground.InkList.Rows.Sum(row => row.GramsPer100Prints), facts.GramsPer100, 1e-9);
        Assert.True(facts.GramsPer100 > 0);
    }
}
