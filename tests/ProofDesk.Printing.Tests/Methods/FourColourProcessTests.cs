using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Inverse;
using ProofDesk.Printing.Tests.Separations;
using ProofDesk.Printing.Tests.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Methods;

public sealed class FourColourProcessTests
{
    private static readonly PrintMethod Method = PrintMethods.Find("four-colour-process")!;

    private static Separation Separate(SizedArt art, params ImmutableArray<Ground> grounds) =>
        Method.Separate(art, Method, grounds, new());

    public static TheoryData<string> Grounds => ["black", "white", "red", "light heather"];

    private static Ground Ground(string name) =>
        name switch
        {
            "black" => TestGrounds.Black,
            "white" => TestGrounds.White,
            "red" => TestGrounds.Red,
            _ => TestGrounds.Grey,
        };

    [Fact]
    public void Films_have_the_angles_of_the_trade_and_say_the_true_ones()
    {
        var films = FilmMaker.Screen(Separate(PaintedArt.Dusk(), TestGrounds.Black), OutputDevice.Fallback);

        var angles = films.Plates.ToDictionary(f => f.Plate.Name, f => f.TrueScreen.AngleDegrees);
        Assert.Equal(22.5, angles["Process cyan"], 0.25);
        Assert.Equal(52.5, angles["Process magenta"], 0.25);
        Assert.Equal(7.5, angles["Process yellow"], 0.25);
        Assert.Equal(82.5, angles["Black"], 0.25);
        Assert.All(films.Plates, f => Assert.InRange(f.TrueScreen.LinesPerInch, 54.5, 55.5));
    }

    [Fact]
    public void On_white_cloth_there_are_four_plates_and_on_black_a_base_below_them()
    {
        Assert.Equal(
            ["Process yellow", "Process magenta", "Process cyan", "Black"],
            Separate(PaintedArt.Dusk(), TestGrounds.White).Plates.Select(p => p.Name)
        );
        var dark = Separate(PaintedArt.Dusk(), TestGrounds.Black);
        Assert.Equal(PlatePurpose.BaseAndWhite, dark.Plates[0].Purpose);
        Assert.True(dark.Plates[0].FlashAfter);
    }

    // Issue: plates whose forward model hits the art; grid nodes and what lies between them alike.
    [Theory]
    [MemberData(nameof(Grounds))]
    public void The_plates_come_within_one_and_a_half_of_the_wanted_colours(string ground)
    {
        var job = Job(Ground(ground));
        var table = TonalSeparator.Solve(job);
        var fit = TonalFit.Of(table, 0, ToneHistogram.Of(PaintedArt.Dusk().Pixels));

        Assert.InRange(fit.MeanInGamut, 0, 1.5);
        Assert.InRange(fit.NinetyFifthInGamut, 0, 3);
    }

    // The same through film bits, lost dots, growth and the light in the cloth.
    [Theory]
    [MemberData(nameof(Grounds))]
    public void Flat_tints_print_as_wanted(string ground)
    {
        var job = Job(Ground(ground));
        var gamut = TonalGround.Of(job, 0).Gamut;
        var printed = RoundTrip.Print(Method, Ground(ground), new(), RoundTrip.Tints);

        var off = RoundTrip
            .Tints.Select(
                (t, i) => Ciede2000.Difference(printed[i], TonalFit.LabOf(gamut.Map(Srgb.Decode(t.R, t.G, t.B)).Wanted))
            )
            .ToArray();
        Assert.True(
            off.Average() < 3,
            $"mean {off.Average():0.00}: {string.Join(" ", off.Select(d => d.ToString("0.0")))}"
        );
    }

    [Theory]
    [MemberData(nameof(Grounds))]
    public void A_grey_ramp_is_grey_and_never_turns_back(string ground)
    {
        var table = TonalSeparator.Solve(Job(Ground(ground)));
        var work = new PlateModel.Work(table.Plates);
        var coverages = new float[table.Plates];
        var last = -1.0;
        for (var code = 0; code <= 255; code += 3)
        {
            var grey = Srgb.Decode(code / 255.0, code / 255.0, code / 255.0);
            table.Coverages(grey, coverages);
            var printed = CieLab.FromXyz(table.Grounds[0].Model.Xyz(coverages, work), TonalGround.Light);
            var wanted = TonalFit.LabOf(table.Grounds[0].Gamut.Map(grey).Wanted);
            // Tones have eight bits: one step of white on black cloth is 1 L* at the dark end.
            Assert.True(
                printed.L > last - (last < 30 ? 0.8 : 0.25),
                $"L* {printed.L:0.00} after {last:0.00} at code {code}"
            );
            Assert.InRange(Math.Sqrt(Math.Pow(printed.A - wanted.A, 2) + Math.Pow(printed.B - wanted.B, 2)), 0, 2.5);
            last = printed.L;
        }
    }

    [Fact]
    public void On_black_cloth_the_cloth_is_the_black()
    {
        var table = TonalSeparator.Solve(Job(TestGrounds.Black));
        var coverages = new float[table.Plates];
        table.Coverages(new(0, 0, 0), coverages);

        Assert.All(coverages, c => Assert.InRange(c, 0, 0.02));
    }

    [Fact]
    public void White_paper_needs_no_ink_on_white_cloth()
    {
        var table = TonalSeparator.Solve(Job(TestGrounds.White));
        var coverages = new float[table.Plates];
        table.Coverages(new(1, 1, 1), coverages);

        Assert.All(coverages, c => Assert.InRange(c, 0, 0.01));
    }

    [Fact]
    public void Transparent_art_gets_no_ink()
    {
        var art = PaintedArt.Of(
            200,
            200,
            40,
            (x, y) => (0.8, 0.4, 0.2, Math.Pow(x - 0.5, 2) + Math.Pow(y - 0.5, 2) < 0.1 ? 1 : 0)
        );
        var films = FilmMaker.Screen(Separate(art, TestGrounds.Black), OutputDevice.Fallback);

        foreach (var film in films.Plates)
        {
            var bits = new Imaging.Rasters.BitPlane(film.Width, 100);
            film.ReadRows(0, bits);
            Assert.All(bits.Words, word => Assert.Equal(0UL, word));
        }
    }

    // A soft shadow is less ink of the same colour, not a hard edge at one half.
    [Fact]
    public void A_fade_of_the_alpha_is_a_fade_of_the_ink()
    {
        var art = PaintedArt.Of(400, 40, 80, (x, _) => (0.9, 0.2, 0.1, x));
        foreach (var ground in new[] { TestGrounds.White, TestGrounds.Black, TestGrounds.Red })
        {
            var separation = Separate(art, ground);
            foreach (var plate in separation.Plates)
            {
                Assert.InRange(plate.Wanted[4, 20], 0, 12);
                for (var x = 10; x < 380; x += 10)
                    Assert.InRange(Math.Abs(plate.Wanted[x + 10, 20] - plate.Wanted[x, 20]), 0, 50);
            }
        }
        var magenta = Separate(art, TestGrounds.White).Plates.Single(p => p.Name == "Process magenta").Wanted;
        Assert.InRange(magenta[100, 20], 10, magenta[200, 20] - 20);
        Assert.InRange(magenta[200, 20], 20, magenta[380, 20] - 20);
    }

    [Fact]
    public void One_set_serves_black_and_white_cloth_and_the_base_rests_on_white()
    {
        var separation = Separate(PaintedArt.Dusk(), TestGrounds.White, TestGrounds.Black);

        Assert.False(separation.Grounds[0].Runs[0].Runs);
        Assert.Equal("rests on white: the cloth is the white", separation.Grounds[0].Runs[0].Reason);
        Assert.True(separation.Grounds[1].Runs[0].Runs);
    }

    [Fact]
    public void An_ink_of_another_method_is_refused()
    {
        var settings = new SpotSettings { Inks = InkChoice.Of(ProofDesk.Printing.Inks.InkLibrary.Find("wb-red")!) };
        var refused = Method.Separate(PaintedArt.Dusk(), Method, [TestGrounds.Black], settings);

        var finding = Assert.Single(refused.Findings, f => f.Weight == FindingWeight.Refusal);
        Assert.Equal("Red (wb-red) is not an ink of four-colour-process", finding.Message);
    }

    [Fact]
    public void A_discharge_base_is_refused()
    {
        var refused = Method.Separate(
            PaintedArt.Dusk(),
            Method,
            [TestGrounds.Black],
            new() { Base = BaseChoice.Discharge }
        );

        Assert.Equal(
            "a discharge base is not part of four-colour-process: discharge takes the cloth's own dye out and is a method of its own",
            Assert.Single(refused.Findings, f => f.Weight == FindingWeight.Refusal).Message
        );
    }

    private static TonalJob Job(params ImmutableArray<Ground> grounds) => FourColourProcess.Job(Method, grounds, new());
}
