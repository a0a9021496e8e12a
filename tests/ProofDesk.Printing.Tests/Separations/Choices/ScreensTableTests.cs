using System.Text.Json;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Choices;
using ProofDesk.Printing.Separations.Inverse;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Choices;

public sealed class ScreensTableTests
{
    private static readonly PrintMethod Method = PrintMethods.Find("simulated-process")!;

    private static readonly ScreensTable OnBlack = ScreensTables.Of(
        PaintedArt.Dusk(),
        Method,
        [TestGrounds.Black],
        new(),
        100,
        ScreenRates.CommonPractice(PressClass.Automatic) with
        {
            HourRate = 40,
            InkRatePerKg = 20,
        }
    );

    [Fact]
    public void There_is_a_row_for_each_count_from_one_to_ten_with_its_screens_and_minutes()
    {
        Assert.Equal(Enumerable.Range(1, 10), OnBlack.Rows.Select(r => r.Colours));
        Assert.All(OnBlack.Rows, r => Assert.Equal(r.Colours + 2, r.Screens));
        // Make 15, set up 4, take down 7.5 (common practice).
        Assert.All(OnBlack.Rows, r => Assert.Equal(26.5 * r.Screens, r.Minutes, 6));
        Assert.Equal(4, OnBlack.Chosen);
    }

    // Ten heads: base, flash, cool-down, colours with a flash after the last, highlight white.
    [Fact]
    public void Flash_and_cool_down_take_heads_so_ten_heads_carry_five_colours_between_two_whites()
    {
        Assert.Equal([6, 7, 8, 9, 10, 11, 12, 13, 14, 15], OnBlack.Rows.Select(r => r.Grounds[0].Heads));
        Assert.Equal([true, true, true, true, true, false], OnBlack.Rows.Take(6).Select(r => r.FitsPress));
    }

    [Fact]
    public void More_inks_reach_more_of_the_art()
    {
        double[] off = [.. OnBlack.Rows.Select(row => row.Grounds[0].Fit.MeanFromArt)];

        Assert.True(off[1] < off[0] && off[3] < off[1], string.Join(" ", off));
        // Beyond what the picture needs a further ink changes nothing that is seen.
        for (var i = 1; i < off.Length; i++)
            Assert.True(off[i] < off[i - 1] + 0.25, string.Join(" ", off));
        Assert.InRange(OnBlack.Rows[9].Grounds[0].Fit.MeanDeltaE, 0, 1.5);
    }

    [Fact]
    public void A_row_has_the_inks_that_an_order_with_this_count_gets()
    {
        var separation = Method.Separate(
            PaintedArt.Dusk(),
            Method,
            [TestGrounds.Black],
            new() { Inks = InkChoice.Exactly(3) }
        );

        Assert.Equal(
            OnBlack.Rows[2].Inks.Select(i => i.Id),
            separation.Plates.Where(p => p.Purpose == PlatePurpose.Spot).Select(p => p.Ink.Id)
        );
    }

    [Fact]
    public void What_a_row_says_of_the_fit_is_what_the_separation_says_of_itself()
    {
        var separation = Method.Separate(
            PaintedArt.Dusk(),
            Method,
            [TestGrounds.Black],
            new() { Inks = InkChoice.Exactly(4) }
        );
        var (row, made) = (OnBlack.Rows[3].Grounds[0].Fit, Assert.Single(separation.Fits));

        Assert.InRange(Math.Abs(row.MeanDeltaE - made.MeanDeltaE), 0, 0.7);
        Assert.InRange(Math.Abs(row.OutOfReachShare - made.OutOfReachShare), 0, 0.05);
    }

    // On black cloth the cloth is the black: no count asks for black ink, a grey or a pale shirt beside it does.
    [Fact]
    public void On_black_cloth_no_row_has_black_ink()
    {
        var tones = ToneHistogram.Of(PaintedArt.Dusk().Pixels);
        var beside = SimulatedProcess.Ladder(tones, Method, [TestGrounds.Black, TestGrounds.White], new(), [], 4);

        Assert.DoesNotContain(OnBlack.Rows, r => r.Inks.Any(i => i.Role == InkRole.Black));
        Assert.Contains(beside[3], i => i.Role == InkRole.Black);
    }

    [Fact]
    public void Fixed_inks_begin_the_table()
    {
        var tones = ToneHistogram.Of(PaintedArt.Dusk().Pixels);
        var rules = InkRules.None with { Must = [InkLibrary.Find("violet")!, InkLibrary.Find("green")!] };
        var ladder = SimulatedProcess.Ladder(
            tones,
            Method,
            [TestGrounds.Black],
            new() { Inks = InkChoice.Automatic with { Rules = rules } },
            [],
            4
        );

        Assert.Equal([2, 3, 4], ladder.Select(inks => inks.Length));
        Assert.All(ladder, inks => Assert.Superset(rules.Must.ToHashSet(), inks.ToHashSet()));
    }

    [Fact]
    public void A_method_that_does_not_choose_by_count_is_refused()
    {
        var refused = Assert.Throws<ProofRefused>(() =>
            ScreensTables.Of(
                PaintedArt.Dusk(),
                PrintMethods.Find("plastisol")!,
                [TestGrounds.Black],
                new(),
                100,
                ScreenRates.CommonPractice(PressClass.Automatic)
            )
        );
        var finding = Assert.Single(refused.Findings);

        Assert.Equal(
            "the table of screens is for painted art in inks chosen by count; plastisol does not choose them so",
            finding.Message
        );
        Assert.Equal("ask for it with simulated-process", finding.NextStep);
    }

    [Fact]
    public void The_text_lines_up_and_says_where_its_numbers_come_from()
    {
        var lines = ScreensText.Write(OnBlack).Split('\n');

        Assert.Equal("on black", lines[0]);
        Assert.Equal(
            "  colours  screens  heads  off the art  within reach  95 %  out of reach  ink, g  minutes  a print  inks",
            lines[1]
        );
        Assert.StartsWith(">       4        6     9   ", lines[5]);
        Assert.StartsWith("        6        8    11!  ", lines[7]);
        Assert.Equal(
            [
                "> 4 colours are what the job takes as it is set; --inks N takes another row",
                "! more heads than the press has, 10: flash and cool-down take heads too",
                "off the art: mean dE00 over all of the art, by the forward model; within reach and 95 %: over the art that the print can reach",
                "ink: one print, theoretical volume; real use is 1.3 to 2 times it (common practice)",
                "minutes: 26.5 a screen, once for the run (common practice: make 15, set up 4, take down 7.5)",
                "a print: screens and mixed ink shared by 100 prints, 40 an hour and 20 a kilogram of ink",
                "",
            ],
            lines[12..]
        );
    }

    [Fact]
    public void The_json_has_the_same_rows()
    {
        using var json = JsonDocument.Parse(ScreensJson.Write(OnBlack));
        var rows = json.RootElement.GetProperty("rows");

        Assert.Equal(10, rows.GetArrayLength());
        Assert.Equal(4, json.RootElement.GetProperty("chosen").GetInt32());
        Assert.Equal("common practice", json.RootElement.GetProperty("rates").GetProperty("name").GetString());
        Assert.Equal(
            OnBlack.Rows[1].Inks.Select(i => i.Id),
            rows[1].GetProperty("inks").EnumerateArray().Select(i => i.GetString())
        );
        Assert.Equal(
            Math.Round(OnBlack.Rows[1].Grounds[0].Fit.MeanDeltaE, 2),
            rows[1].GetProperty("grounds")[0].GetProperty("meanDeltaE00").GetDouble()
        );
    }

    [Fact]
    public void A_cost_is_said_only_where_both_rates_are()
    {
        var common = ScreenRates.CommonPractice(PressClass.Manual);

        Assert.Null(common.PerPrint(6, 2000, 100));
        Assert.Null((common with { HourRate = 40 }).PerPrint(6, 2000, 100));
        // Six screens of 34.5 minutes at 40 an hour and 2 kg at 20, over a hundred prints.
        Assert.Equal(1.78, (common with { HourRate = 40, InkRatePerKg = 20 }).PerPrint(6, 2000, 100)!.Value, 6);
    }
}
