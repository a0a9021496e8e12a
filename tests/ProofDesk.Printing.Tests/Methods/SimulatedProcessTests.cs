using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Inverse;
using ProofDesk.Printing.Tests.Separations;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Methods;

public sealed class SimulatedProcessTests
{
    private static readonly PrintMethod Method = PrintMethods.Find("simulated-process")!;

    private static readonly ImmutableArray<Ink> Six =
    [
        InkLibrary.Find("bright-yellow")!,
        InkLibrary.Find("red")!,
        InkLibrary.Find("royal-blue")!,
        InkLibrary.Find("mid-grey")!,
    ];

    private static PressSettings Still { get; } =
        PressSettings.Automatic with
        {
            SetUpSigmaMm = 0,
            PalletSigmaMm = 0,
            JitterSigmaMm = 0,
        };

    [Fact]
    public void On_black_six_screens_are_a_base_four_colours_and_a_highlight_white_at_one_angle()
    {
        var separation = Method.Separate(PaintedArt.Dusk(), Method, [TestGrounds.Black], new());

        Assert.Equal(6, separation.Plates.Length);
        Assert.Equal(PlatePurpose.BaseAndWhite, separation.Plates[0].Purpose);
        Assert.Equal(PlatePurpose.HighlightWhite, separation.Plates[^1].Purpose);
        Assert.Single(separation.Plates.Select(p => p.Screen).Distinct());
        Assert.Equal(22.5, separation.Plates[0].Screen.AngleDegrees);
        Assert.True(separation.Plates[0].FlashAfter && separation.Plates[^2].FlashAfter);
    }

    [Fact]
    public void Listed_inks_are_kept()
    {
        var settings = new SpotSettings { Inks = InkChoice.Of(Six) };
        var separation = Method.Separate(PaintedArt.Dusk(), Method, [TestGrounds.White], settings);

        Assert.Equal(["Bright yellow", "Mid grey", "Red", "Royal blue"], separation.Plates.Select(p => p.Name).Order());
    }

    // A picture that is half red and half green asks for those, not for violet.
    [Fact]
    public void Inks_are_chosen_for_the_picture()
    {
        var art = PaintedArt.Of(
            60,
            60,
            60,
            (x, y) => x < 0.5 ? (0.35 + 0.5 * y, 0.1 * y, 0.1 * y, 1) : (0.05, 0.3 + 0.35 * y, 0.15, 1)
        );
        var inks = SimulatedProcess.Choose(ToneHistogram.Of(art.Pixels), Method, [TestGrounds.Black], new(), 3);

        Assert.Contains(inks, i => i.Id is "red" or "maroon");
        Assert.Contains(inks, i => i.Id is "green" or "forest-green");
        Assert.DoesNotContain(inks, i => i.Id is "violet" or "fuchsia");
    }

    // Many shades of the main colour must not crowd out a small patch of another.
    [Fact]
    public void A_small_blue_patch_gets_a_blue_ink()
    {
        var art = PaintedArt.Of(
            120,
            120,
            60,
            (x, y) =>
                x > 0.82 && y > 0.82
                    ? (0.2 + 0.1 * x, 0.2, 0.55 + 0.1 * y, 1)
                    : (0.45 + 0.5 * y, 0.2 + 0.4 * x * y, 0.1 + 0.3 * x, 1)
        );
        var inks = SimulatedProcess.Choose(ToneHistogram.Of(art.Pixels), Method, [TestGrounds.Black], new(), 4);

        Assert.Contains(inks, i => i.Id is "royal-blue" or "light-blue" or "violet" or "navy");
    }

    // On black cloth the cloth is the black; elsewhere black carries the drawing.
    [Fact]
    public void Black_ink_is_kept_where_the_cloth_is_not_black()
    {
        var tones = ToneHistogram.Of(PaintedArt.Dusk().Pixels);
        bool HasBlack(params ImmutableArray<Ground> grounds) =>
            SimulatedProcess.Choose(tones, Method, grounds, new(), 3).Any(i => i.Role == InkRole.Black);

        Assert.False(HasBlack(TestGrounds.Black));
        Assert.True(HasBlack(TestGrounds.Grey));
        Assert.True(HasBlack(TestGrounds.Black, TestGrounds.White));
    }

    [Fact]
    public void More_inks_come_nearer()
    {
        var tones = ToneHistogram.Of(PaintedArt.Dusk().Pixels);
        double Miss(int count)
        {
            var inks = SimulatedProcess.Choose(tones, Method, [TestGrounds.Black], new(), count);
            var table = TonalSeparator.Solve(SimulatedProcess.Job(Method, [TestGrounds.Black], new(), inks));
            var fit = TonalFit.Of(table, 0, tones);
            return fit.MeanInGamut * (1 - fit.OutOfGamut) + fit.MeanMove * fit.OutOfGamut;
        }
        var (two, five) = (Miss(2), Miss(5));
        Assert.True(five < two, $"five inks miss by {five:0.00}, two by {two:0.00}");
    }

    [Fact]
    public void The_plates_come_within_one_and_a_half_of_the_wanted_colours()
    {
        foreach (var ground in new[] { TestGrounds.Black, TestGrounds.White, TestGrounds.Red })
        {
            var tones = ToneHistogram.Of(PaintedArt.Dusk().Pixels);
            var table = TonalSeparator.Solve(SimulatedProcess.Job(Method, [ground], new(), Six));
            Assert.InRange(TonalFit.Of(table, 0, tones).MeanInGamut, 0, 1.5);
        }
    }

    // In perfect register dots lie on dots, and that is what the plates were solved for.
    [Fact]
    public void Flat_tints_print_as_wanted_in_perfect_register()
    {
        var settings = new SpotSettings { Press = Still, Inks = InkChoice.Of(Six) };
        var off = Off(settings, Wanted(settings), 1);
        Assert.True(
            off.Average() < 3,
            $"mean {off.Average():0.00}: {string.Join(" ", off.Select(d => d.ToString("0.0")))}"
        );
    }

    // With the register of the trade a print may differ, and the mean of several does not drift.
    [Fact]
    public void With_the_register_of_the_trade_the_mean_of_many_prints_is_the_wanted_colour()
    {
        var settings = new SpotSettings { Inks = InkChoice.Of(Six) };
        var wanted = Wanted(settings);
        var off = Enumerable.Range(1, 3).SelectMany(seed => Off(settings, wanted, (ulong)seed)).Average();
        Assert.InRange(off, 0, 5);
    }

    // physics 1.14: same-angle plates of red and blue on a base at 50/50 differ from independent ones by 11.5 dE00 (thinner films than ours).
    [Fact]
    public void Dot_on_dot_is_another_colour_than_independent_screens()
    {
        var held = SimulatedProcess.Job(Method, [TestGrounds.Black], new() { Press = Still }, Six);
        var free = held with { InStep = false };
        float[] half =
        [
            .. held.Plates.Select(p =>
                p.Purpose.IsBase ? 1
                : p.Name is "Red" or "Royal blue" ? 0.5f
                : 0
            ),
        ];
        Lab Colour(TonalJob job) =>
            CieLab.FromXyz(TonalGround.ModelOf(job, 0, false).Xyz(half, new(job.Plates.Length)), TonalGround.Light);
        Assert.InRange(Ciede2000.Difference(Colour(held), Colour(free)), 8, 20);
    }

    [Fact]
    public void Register_takes_two_thirds_of_the_nesting_at_55_lines()
    {
        var screen = new ProofDesk.Printing.Screening.Screen(
            55,
            22.5,
            ProofDesk.Printing.Screening.DotShape.Elliptical
        );

        Assert.Equal(1, TonalGround.HeldInStep(Still, screen));
        // sigma of two plates sqrt(2) x .078 mm against a period of .462 mm.
        Assert.Equal(0.323, TonalGround.HeldInStep(PressSettings.Automatic, screen), 3);
    }

    // The count is of colours, as the order form says; whites come on top.
    [Theory]
    [InlineData(
        true,
        11,
        "11 colours over base and under highlight white are 13 screens, 12 can be solved together",
        "ask for 10 colours or fewer"
    )]
    [InlineData(false, 13, "13 colours are 13 screens, 12 can be solved together", "ask for 12 colours or fewer")]
    public void Too_many_screens_are_refused(bool black, int count, string why, string nextStep)
    {
        var refused = Method.Separate(
            PaintedArt.Dusk(),
            Method,
            [black ? TestGrounds.Black : TestGrounds.White],
            new() { Inks = InkChoice.Exactly(count) }
        );
        var finding = Assert.Single(refused.Findings, f => f.Weight == FindingWeight.Refusal);
        Assert.Equal((why, nextStep), (finding.Message, finding.NextStep));
    }

    private static Lab[] Wanted(SpotSettings settings)
    {
        var gamut = TonalGround.Of(SimulatedProcess.Job(Method, [TestGrounds.Black], settings, Six), 0).Gamut;
        return [.. RoundTrip.Tints.Select(t => TonalFit.LabOf(gamut.Map(Srgb.Decode(t.R, t.G, t.B)).Wanted))];
    }

    private static double[] Off(SpotSettings settings, Lab[] wanted, ulong seed)
    {
        var printed = RoundTrip.Print(Method, TestGrounds.Black, settings, RoundTrip.Tints, seed);
        return [.. wanted.Select((w, i) => Ciede2000.Difference(printed[i], w))];
    }
}
