using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.TestForms;
using ProofDesk.Printing.Tests.Presses;

namespace ProofDesk.Printing.Tests.TestForms;

public sealed class PressFitTests
{
    private static TestFormSettings Form { get; } = FormBench.Settings(FormCloth.Dark, "61-64", "black", "red");

    private static PressReadings Typed { get; } =
        new(Form, PressBench.Black)
        {
            Blocks =
            [
                new("white", FormUnder.Cloth, null, null, null, null, 45, ReadBy.Eye),
                new("black", FormUnder.Base, null, null, null, null, 75, ReadBy.Eye),
            ],
            Whites = [new(WhitePass.OneStroke, 72, ReadBy.Instrument)],
        };

    [Fact]
    public void The_proof_moves_with_the_press()
    {
        var fitted = PressFit.Fit([Typed], PressSettings.Automatic, "ours").Press;
        var half = PressBench.Films(
            (PressBench.Base(), PressBench.Solid(PressBench.Px(24), PressBench.Px(12))),
            (
                PressBench.Spot("black"),
                PressBench.Drawn(
                    PressBench.Px(24),
                    PressBench.Px(12),
                    (x, y) => x >= PressBench.Px(12) && (x / 16 + y / 16) % 2 == 0
                )
            )
        );

        var usual = half.PrintOn(PressBench.Black, PressSettings.Automatic);
        var ours = half.PrintOn(PressBench.Black, fitted);

        var white = Ciede2000.Difference(usual.MeanLab(3, 3, 9, 9), ours.MeanLab(3, 3, 9, 9));
        var tone = Ciede2000.Difference(usual.MeanLab(15, 3, 21, 9), ours.MeanLab(15, 3, 21, 9));
        Assert.InRange(white, 4, 12);
        Assert.InRange(tone, 4, 40);
    }

    [Fact]
    public void What_was_not_read_keeps_the_default_and_is_listed()
    {
        var fitted = PressFit.Fit([Typed], PressSettings.Automatic, "ours");

        Assert.Equal(PressSettings.Automatic.SetUpSigmaMm, fitted.Press.SetUpSigmaMm);
        Assert.Contains("register: no vernier was read", fitted.CannotTell);
        Assert.Equal(DataClass.B, fitted.Press.DataClass);
        Assert.Equal("ours", fitted.Press.Name);
    }

    [Fact]
    public void One_white_reading_is_met()
    {
        var fitted = PressFit.Fit([Typed], PressSettings.Automatic, "ours");

        Assert.Equal(72, new DepositFit(Typed).Lightness(WhitePass.OneStroke, fitted.Press), 0.1);
        Assert.Equal(DataClass.A, fitted.Numbers.Single(n => n.Name == "WhiteOpacityScale").DataClass);
    }

    [Fact]
    public void Weighed_prints_give_the_deposit()
    {
        var gramsPerM2 = 0.6 * Form.Mesh.TheoreticalInkVolume * Form.White.DensityGramsPerCm3;

        var fitted = PressFit.Fit(
            [Typed with { Weighed = [new("white", gramsPerM2)] }],
            PressSettings.Automatic,
            "ours"
        );

        Assert.Equal(0.6, fitted.Press.Transfer, 6);
    }

    [Fact]
    public void All_impossible_readings_are_told_at_once()
    {
        var wrong = Typed with
        {
            Blocks = [new("red", FormUnder.Cloth, 4, null, null, null, 130, ReadBy.Eye)],
            Register = [new(1, 1, 1, "red", FormCorner.TopLeft, 2.5, 0, ReadBy.Eye)],
            Whites = [new(WhitePass.OneStroke, 8, ReadBy.Instrument)],
        };

        var refused = Assert.Throws<ReadingsRefused>(() => PressFit.Fit([wrong], PressSettings.Automatic, "ours"));

        Assert.Equal(
            [
                "blocks[0]: the form has no block of 'red' on cloth",
                "blocks[0].growthUm is 130 um; 0 to 120 um can be read",
                "blocks[0].firstStepHeldPercent is 4 %, which is not on the form",
                "register[0].xMm is 2.5 mm; -1.5 to 1.5 mm can be read",
                "whites[0].lightness is 8; between that of the cloth, 16.5, and 100 is possible",
            ],
            refused.Findings.Select(f => f.Message)
        );
    }

    [Fact]
    public void A_press_comes_back_from_its_file()
    {
        var fitted = PressFit.Fit([Typed], PressSettings.Automatic, "ours");

        var read = PressJson.Read(PressJson.Write(fitted), "press.json");

        Assert.Equal(fitted.Press, read.Press);
        Assert.Equal([.. fitted.Numbers], read.Numbers.ToArray());
        Assert.Equal([.. fitted.CannotTell], read.CannotTell.ToArray());
    }

    [Fact]
    public void A_press_with_an_impossible_number_is_refused()
    {
        var fitted = PressFit.Fit([Typed], PressSettings.Automatic, "ours");
        var json = PressJson.Write(fitted with { Press = fitted.Press with { Transfer = 9 } });

        var problem = Assert.Throws<ReadingSheetProblem>(() => PressJson.Read(json, "press.json"));

        Assert.Equal("press.json, field press.transfer is 9; 0.1 to 1.5 is possible", problem.Message);
    }

    [Fact]
    public void The_blank_sheet_reads_back_as_its_form_without_readings()
    {
        var blank = ReadingSheetJson.Blank(Form, PressBench.Black);

        var read = ReadingSheetJson.Read(blank, "readings.json", (_, _) => PressBench.Black);

        Assert.Equal([.. Form.Blocks], read.Form.Blocks.ToArray());
        Assert.Equal(Form.Ruling, read.Form.Ruling);
        Assert.All(read.Blocks, b => Assert.Null(b.GrowthUm));
        var refused = Assert.Throws<ReadingsRefused>(() => PressFit.Fit([read], PressSettings.Automatic, "ours"));
        Assert.Equal("the sheet has no reading in it", refused.Message);
    }

    [Fact]
    public void A_broken_sheet_names_file_line_and_field()
    {
        var blank = ReadingSheetJson.Blank(Form, PressBench.Black);
        var broken = blank.Replace("\"growthUm\": null", "\"growthUm\": \"thirty\"", StringComparison.Ordinal);

        var problem = Assert.Throws<ReadingSheetProblem>(() =>
            ReadingSheetJson.Read(broken, "readings.json", (_, _) => PressBench.Black)
        );

        Assert.Equal(
            "readings.json, line 11, field $.blocks[0].growthUm: not a reading that is understood",
            problem.Message
        );
    }

    [Fact]
    public void A_picture_without_the_marks_says_what_is_missing()
    {
        var plain = new Imaging.Rasters.RgbPicture(400, 300, 10);

        var problem = Assert.Throws<ScanProblem>(() =>
            ScanReading.Read(plain, Form, PressBench.Black, new(ScannedSheet.Whole))
        );

        Assert.Equal(
            "of the form's four corner marks 0 were found: 0 squares with a hole of 3, 0 solid of 1",
            problem.Message
        );
    }
}
