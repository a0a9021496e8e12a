using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Inverse;

namespace ProofDesk.Printing.Tests.Separations.Inverse;

/// <summary>What the table holds, for six inks on black cloth and four on white: solved once for all tests.</summary>
public sealed class SeparationTableTests
{
    private static readonly PrintMethod Simulated = PrintMethods.Find("simulated-process")!;
    private static readonly PrintMethod Process = PrintMethods.Find("four-colour-process")!;

    private static readonly ImmutableArray<Ink> Inks =
    [
        .. new[] { "bright-yellow", "red", "royal-blue", "mid-grey" }.Select(id => InkLibrary.Find(id)!),
    ];

    private static readonly Lazy<SeparationTable> OnBlack = new(() =>
        TonalSeparator.Solve(SimulatedProcess.Job(Simulated, [TestGrounds.Black], new(), Inks))
    );

    private static readonly Lazy<SeparationTable> OnWhite = new(() =>
        TonalSeparator.Solve(FourColourProcess.Job(Process, [TestGrounds.White], new()))
    );

    private static readonly Lazy<SeparationTable> OnRed = new(() =>
        TonalSeparator.Solve(SimulatedProcess.Job(Simulated, [TestGrounds.Red], new(), Inks))
    );

    private static SeparationTable Table(string name) =>
        name switch
        {
            "black" => OnBlack.Value,
            "white" => OnWhite.Value,
            _ => OnRed.Value,
        };

    // A picture that wanders through a tenth of the cube reads the same from a table that was solved only there.
    [Fact]
    public void A_table_solved_where_a_picture_reads_it_prints_that_picture_as_the_whole_table_does()
    {
        var whole = OnBlack.Value;
        var positions = whole.Positions;
        var colours = Enumerable
            .Range(0, 4000)
            .Select(i =>
                Srgb.Decode(0.3 + 0.25 * Math.Sin(i / 200.0), 0.4 + i / 9000.0, 0.5 + 0.2 * Math.Cos(i / 90.0))
            )
            .ToArray();
        var cells = TableCells.Of(
            colours.Length,
            1,
            (_, row) =>
            {
                for (var i = 0; i < colours.Length; i++)
                    (row[3 * i], row[3 * i + 1], row[3 * i + 2]) = (
                        positions.Of(colours[i].R),
                        positions.Of(colours[i].G),
                        positions.Of(colours[i].B)
                    );
                return true;
            }
        );
        var job = SimulatedProcess.Job(Simulated, [TestGrounds.Black], new(), Inks);

        var part = SeparationTable.Solve(whole.Grounds, whole.Weights, job, cells, positions);

        Assert.InRange(cells.Nodes(1, beside: false).Count(n => n), 400, 6000);
        var difference = colours.Select(c => Ciede2000.Difference(Printed(part, c), Printed(whole, c))).ToArray();
        Assert.InRange(difference.Average(), 0, 0.1);
        // At the rim of what is read a node's neighbours are what lies between coarser ones.
        Assert.InRange(difference.Max(), 0, 2);
    }

    [Fact]
    public void Where_a_picture_reads_nothing_the_table_holds_what_lies_between_its_coarse_nodes()
    {
        var whole = OnBlack.Value;
        var job = SimulatedProcess.Job(Simulated, [TestGrounds.Black], new(), Inks);
        var none = TableCells.Of(1, 1, (_, _) => false);

        var table = SeparationTable.Solve(whole.Grounds, whole.Weights, job, none, whole.Positions);

        var grey = Srgb.Decode(0.5, 0.5, 0.5);
        Assert.InRange(Ciede2000.Difference(Printed(table, grey), Printed(whole, grey)), 0, 4);
    }

    // Nodes are solved, what lies between them is interpolated: neither may miss what the mapping asks for.
    [Theory]
    [InlineData("black", 0.0, 1.0, 3)]
    [InlineData("black", 0.5, 1.1, 3)]
    [InlineData("white", 0.0, 0.5, 2)]
    [InlineData("white", 0.5, 0.6, 2)]
    [InlineData("red", 0.0, 1.2, 3.5)]
    [InlineData("red", 0.5, 1.2, 3.5)]
    public void Nodes_and_the_middles_of_cells_print_what_is_wanted(string name, double within, double mean, double p95)
    {
        var table = Table(name);
        var off = new List<double>();
        for (var r = 0; r < SeparationTable.Size - 1; r += 3)
        for (var g = 0; g < SeparationTable.Size - 1; g += 3)
        for (var b = 0; b < SeparationTable.Size - 1; b += 3)
        {
            var colour = Srgb.Decode(Code(r + within), Code(g + within), Code(b + within));
            var (wanted, ideal) = table.Grounds[0].Gamut.Map(colour);
            if (Ciede2000.Difference(TonalFit.LabOf(wanted), TonalFit.LabOf(ideal)) < 2)
                off.Add(Ciede2000.Difference(Printed(table, colour), TonalFit.LabOf(wanted)));
        }
        off.Sort();
        var (average, high) = (off.Average(), off[(int)(0.95 * off.Count)]);
        Assert.True(
            average < mean && high < p95,
            $"{off.Count} colours in gamut: mean {average:0.00} of {mean}, 95 % {high:0.00} of {p95}"
        );

        static double Code(double node) => node / (SeparationTable.Size - 1);
    }

    [Theory]
    [InlineData("black")]
    [InlineData("white")]
    [InlineData("red")]
    public void Greys_stay_grey_and_get_lighter_all_the_way(string name)
    {
        var table = Table(name);
        var last = -1.0;
        for (var code = 0; code <= 255; code++)
        {
            var grey = Srgb.Decode(code / 255.0, code / 255.0, code / 255.0);
            var printed = Printed(table, grey);
            var wanted = TonalFit.LabOf(table.Grounds[0].Gamut.Map(grey).Wanted);
            var chroma = Math.Sqrt(Math.Pow(printed.A - wanted.A, 2) + Math.Pow(printed.B - wanted.B, 2));

            Assert.True(chroma < 2.5, $"code {code}: {chroma:0.0} beside the grey of the print");
            // A tone has 255 steps; one of white on black cloth is 1 L* at the dark end.
            Assert.True(
                printed.L > last - (last < 30 ? 0.8 : 0.5),
                $"code {code}: L* {printed.L:0.00} after {last:0.00}"
            );
            last = Math.Max(last, printed.L);
        }
    }

    /// <summary>Soft gradients in which a step from one mix of inks to another would show as a line.</summary>
    public static TheoryData<string, double[], double[]> Soft =>
        new()
        {
            { "black", [0.1, 0.1, 0.1], [0.95, 0.95, 0.95] },
            { "black", [0.25, 0.17, 0.14], [0.96, 0.84, 0.76] },
            { "black", [0.5, 0.6, 0.7], [0.85, 0.85, 0.8] },
            { "red", [0.1, 0.1, 0.1], [0.95, 0.95, 0.95] },
            { "red", [0.25, 0.17, 0.14], [0.96, 0.84, 0.76] },
            { "white", [0.1, 0.1, 0.1], [0.95, 0.95, 0.95] },
            { "white", [0.25, 0.17, 0.14], [0.96, 0.84, 0.76] },
        };

    [Theory]
    [MemberData(nameof(Soft))]
    public void A_soft_gradient_has_no_line_in_it(string name, double[] from, double[] to)
    {
        const int Steps = 200;
        var table = Table(name);
        Lab? last = null;
        double[]? step = null;
        var (most, bend, jump) = (0.0, 0.0, 0f);
        var (before, at) = (new float[table.Plates], new float[table.Plates]);
        for (var i = 0; i <= Steps; i++)
        {
            var colour = Srgb.Decode(Along(0), Along(1), Along(2));
            var printed = Printed(table, colour);
            table.Coverages(colour, at);
            if (last is { } lab)
            {
                most = Math.Max(most, Ciede2000.Difference(lab, printed));
                double[] now = [printed.L - lab.L, printed.A - lab.A, printed.B - lab.B];
                if (step is not null)
                    bend = Math.Max(bend, Math.Sqrt(now.Zip(step, (n, s) => (n - s) * (n - s)).Sum()));
                step = now;
                for (var p = 0; p < at.Length; p++)
                    jump = Math.Max(jump, Math.Abs(at[p] - before[p]));
            }
            last = printed;
            at.CopyTo(before, 0);
            double Along(int channel) => from[channel] + (to[channel] - from[channel]) * i / Steps;
        }
        // Two hundred steps from dark to pale are about .4 each.
        Assert.True(most < 1.2, $"a step of {most:0.00} dE00");
        Assert.True(bend < 1.2, $"two steps differ by {bend:0.00}");
        Assert.True(jump < 0.04, $"a plate changes by {100 * jump:0.0} % in one step");
    }

    [Theory]
    [InlineData("black", 5)]
    [InlineData("white", 2.6)]
    public void The_sum_of_all_inks_stays_within_its_limit(string name, double limit)
    {
        var table = Table(name);
        var at = new float[table.Plates];
        for (var i = 0; i < 3000; i++)
        {
            table.Coverages(
                Srgb.Decode(
                    SeededNoise.Uniform(7, 3 * i),
                    SeededNoise.Uniform(7, 3 * i + 1),
                    SeededNoise.Uniform(7, 3 * i + 2)
                ),
                at
            );
            Assert.True(at.Sum() < limit + 0.1, $"{100 * at.Sum():0} % of ink");
        }
    }

    // Black replaces the grey that three colours would make: less ink for the same colour.
    [Fact]
    public void Black_takes_the_place_of_grey_made_of_colours()
    {
        var job = FourColourProcess.Job(Process, [TestGrounds.White], new());
        var without = TonalSeparator.Solve(job with { Plates = [.. job.Plates.Where(p => p.Name != "Black")] });
        var with = OnWhite.Value;
        var (ink, inkWithout, counted) = (0.0, 0.0, 0);
        var (four, three) = (new float[with.Plates], new float[without.Plates]);
        for (var code = 0.3; code < 0.95; code += 0.05)
        {
            var grey = Srgb.Decode(code, code * 0.97, code * 0.95);
            with.Coverages(grey, four);
            without.Coverages(grey, three);
            var wanted = TonalFit.LabOf(with.Grounds[0].Gamut.Map(grey).Wanted);
            // Above the darkest that three colours print.
            if (wanted.L < 45)
                continue;
            counted++;
            (ink, inkWithout) = (ink + four.Sum(), inkWithout + three.Sum());
            Assert.InRange(Ciede2000.Difference(Printed(with, grey), wanted), 0, 1);
        }
        Assert.True(counted > 5);
        Assert.True(ink < 0.75 * inkWithout, $"{ink:0.00} of ink with black, {inkWithout:0.00} without");
    }

    // A press has rarely more than a dozen screens of one print; 4096 combinations, of which few are ever looked at.
    [Fact]
    public void Twelve_plates_are_solved_together()
    {
        ImmutableArray<Ink> ten =
        [
            .. Inks,
            .. new[] { "green", "fuchsia", "violet", "light-blue", "orange", "maroon" }.Select(id =>
                InkLibrary.Find(id)!
            ),
        ];
        var job = SimulatedProcess.Job(Simulated, [TestGrounds.Black], new(), ten);
        var table = TonalSeparator.Solve(job);
        var tones = ToneHistogram.Of(PaintedArt.Dusk().Pixels);
        var fit = TonalFit.Of(table, 0, tones);

        Assert.Equal(12, job.Plates.Length);
        Assert.InRange(fit.MeanInGamut, 0, 1);
        Assert.True(fit.OutOfGamut <= TonalFit.Of(OnBlack.Value, 0, tones).OutOfGamut);
    }

    private static Lab Printed(SeparationTable table, LinearRgb colour)
    {
        var at = new float[table.Plates];
        table.Coverages(colour, at);
        return CieLab.FromXyz(table.Grounds[0].Model.Xyz(at, new(table.Plates)), TonalGround.Light);
    }
}
