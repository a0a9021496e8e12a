using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Presses;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Methods;

/// <summary>Plastisol transfers: [PHYSICS] 3.2, 3.5 and 5 (P22), and the trade's own experience.</summary>
public sealed class TransferTests
{
    private static TestArt WhiteSquare => new TestArt(300, 300).Rectangle("#ffffff", 0, 0, 300, 300);

    private static TestArt RedAndWhite =>
        new TestArt(400, 200).Rectangle("#d0202e", 0, 0, 200, 200).Rectangle("#ffffff", 200, 0, 400, 200);

    // [PHYSICS] 5, P22, on printed solids read from the pictures.
    [Fact]
    public void A_white_transfer_is_itself_on_any_cloth()
    {
        var separation = CutJobs.Transfer.SeparationOf(WhiteSquare, 30, PressBench.Black, PressBench.Red);

        var onBlack = separation.Printed(0).MeanLab(5, 5, 25, 25);
        var onRed = separation.Printed(1).MeanLab(5, 5, 25, 25);

        Assert.InRange(onBlack.L, 94, 95);
        Assert.InRange(onRed.L, 94, 95);
        Assert.InRange(Ciede2000.Difference(onBlack, onRed), 0, 1);
    }

    [Fact]
    public void The_white_backing_is_printed_last_and_lies_next_to_the_cloth()
    {
        var separation = CutJobs.Transfer.SeparationOf(RedAndWhite, 60, PressBench.Black);

        Assert.Equal(["White", "Red", "White backing"], separation.Plates.Select(p => p.Name));
        Assert.Equal("32-100", separation.Plates[2].Mesh.Label);
        Assert.Equal("48-70", separation.Plates[1].Mesh.Label);
        Assert.Equal(
            "printed last on the carrier, so it lies under everything on the cloth",
            separation.Grounds[0].Runs[2].Reason
        );
        // Were the backing on top, the red would be white.
        Assert.True(separation.Printed().MeanLab(5, 5, 25, 25).A > 50);
    }

    [Fact]
    public void The_ink_list_counts_in_the_order_of_the_carrier()
    {
        var proof = CutJobs.Transfer.Prove(RedAndWhite, 60, PressBench.Black);

        Assert.Equal(["White", "Red", "White backing"], proof.Grounds[0].InkList.Rows.Select(r => r.Plate));
        Assert.True(proof.Grounds[0].InkList.Rows[1].ExpectedLab.A > 50);
        Assert.Equal(
            "screen,plate,ink,mesh,film,on the carrier,on the cloth\r\n1,White,White,48-70,mirrored,printed first,on top\r\n2,Red,Red,48-70,mirrored,printed on top of 1,under 1\r\n3,White backing,White,32-100,mirrored,printed last,next to the cloth\r\n",
            ((ProductionText)CutJobs.Transfer.Production(proof)[0]).Text
        );
    }

    // Common practice: a transfer sits higher than a direct print. [PHYSICS] 3.2: 50 to 100 um with its backing.
    [Fact]
    public void A_transfer_sits_higher_than_a_direct_print()
    {
        double Um(PrintMethod method) =>
            method.Prove(RedAndWhite, 60, PressBench.Black) is var proof
                ? HandFeel
                    .Of(proof.Separation, proof.Separation.Grounds[0], proof.Measures, PressSettings.Automatic)
                    .ThickestUm
                : 0;

        var (transfer, direct) = (Um(CutJobs.Transfer), Um(PrintMethods.Find("plastisol")!));

        Assert.InRange(transfer, 50, 100);
        Assert.True(transfer > 1.3 * direct, $"transfer {transfer:0} um, direct {direct:0} um");
    }

    [Fact]
    public void One_transfer_serves_every_ground()
    {
        var art = new TestArt(400, 200).Rectangle("#000000", 0, 0, 200, 200).Rectangle("#ffffff", 200, 0, 400, 200);

        var separation = CutJobs.Transfer.SeparationOf(art, 60, PressBench.Black, PressBench.White);

        Assert.All(separation.Grounds, plan => Assert.All(plan.Runs, run => Assert.True(run.Runs)));
        Assert.Equal(3, separation.Plates.Length);
    }

    [Fact]
    public void Nothing_wicks_and_the_film_is_smooth()
    {
        var press = CutJobs.Transfer.Press.Settings(PressSettings.Automatic);

        Assert.Equal((0, 0, 0), (press.WickedShare, press.BareFibreFirstPass, press.BareFibreOnBase));
        Assert.Equal(0.1, press.ThicknessCvFirstPass);
    }

    [Fact]
    public void Powder_and_placement_are_left_to_sheets_and_hands()
    {
        var separation = CutJobs.Transfer.SeparationOf(
            WhiteSquare,
            30,
            new SpotSettings { Base = BaseChoice.None },
            [PressBench.Black]
        );

        Assert.Equal(
            "a transfer is laid by hand, within 5 mm of where it should be",
            separation.Finding("placed-by-hand").Message
        );
        Assert.Equal(
            "adhesive powder, time, heat, pressure and hot or cold peel are the ink and carrier suppliers' business",
            separation.Finding("adhesive-powder").Message
        );
        Assert.Equal(
            "no base was asked for; the white backing is part of a transfer, so it is printed",
            separation.Finding("backing-is-part").Message
        );
        Assert.Equal(2, separation.Plates.Length);
    }
}
