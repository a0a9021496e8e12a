using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>Where one ink lay against the reference on one sheet, about the form's middle.</summary>
/// <param name="DxMm">To the right.</param>
/// <param name="DyMm">Downwards.</param>
/// <param name="RotationRadians">Clockwise.</param>
/// <param name="Stretch">Relative.</param>
public sealed record InkOffset(
    int Sheet,
    int Run,
    int Pallet,
    string Ink,
    double DxMm,
    double DyMm,
    double RotationRadians,
    double Stretch
);

/// <summary>
/// From vernier readings to register errors. Four corners give shift, turn and stretch of each ink by least squares. The spread
/// is that of all screens of a sheet, the reference one of them: the variance of one screen is the sample variance of
/// (0, d2, d3, ...), for each difference carries the reference's own error too. Between sheets of a run, and between sheets of
/// one pallet, the same sum is split as in any analysis of variance.
/// </summary>
public static class RegisterFit
{
    public static IReadOnlyList<InkOffset> Offsets(PressReadings readings)
    {
        var layout = new TestFormLayout(readings.Form);
        var inks = readings.Form.Inks.Select(i => i.Id).ToList();
        return
        [
            .. readings
                .Register.GroupBy(r => (r.Sheet, r.Run, r.Pallet, r.Ink))
                .Select(group =>
                {
                    var plate = inks.IndexOf(group.Key.Ink);
                    var points = new List<(double X, double Y, bool AlongX, double Offset)>();
                    foreach (var r in group)
                    foreach (var v in layout.Verniers.Where(v => v.Plate == plate && v.Corner == r.Corner))
                    {
                        var (x, y) = TestFormLayout.Zero(v);
                        points.Add(
                            (
                                x - TestFormLayout.WidthMm / 2,
                                y - layout.HeightMm / 2,
                                v.AlongX,
                                v.AlongX ? r.XMm : r.YMm
                            )
                        );
                    }
                    return Of(group.Key, points);
                }),
        ];
    }

    // An x vernier at (x, y) reads dx - turn y + stretch x, a y vernier dy + turn x + stretch y.
    private static InkOffset Of(
        (int Sheet, int Run, int Pallet, string Ink) of,
        List<(double X, double Y, bool AlongX, double Offset)> points
    )
    {
        var rows = points
            .Select(p => (double[])(p.AlongX ? [1, 0, -p.Y, p.X, p.Offset] : [0, 1, p.X, p.Y, p.Offset]))
            .ToList();
        // One corner tells a shift only.
        var corners = points.Select(p => (p.X > 0, p.Y > 0)).Distinct().Count();
        var unknowns = corners < 2 ? 2 : 4;
        var solved = LeastSquares.Solve(rows, unknowns);
        return new(
            of.Sheet,
            of.Run,
            of.Pallet,
            of.Ink,
            solved[0],
            solved[1],
            unknowns == 4 ? solved[2] : 0,
            unknowns == 4 ? solved[3] : 0
        );
    }

    /// <summary>Standard deviations of one screen, mm, and on how many independent numbers they rest.</summary>
    public static RegisterSpread Spread(IReadOnlyList<InkOffset> offsets, PressSettings usual)
    {
        var inks = offsets.Select(o => o.Ink).Distinct().ToList();
        var sheets = offsets
            .GroupBy(o => (o.Run, o.Sheet, o.Pallet))
            .Where(s => s.Count() == inks.Count)
            .Select(s => new SheetErrors(
                s.Key.Run,
                s.Key.Pallet,
                [
                    Centred([0, .. inks.Select(i => s.First(o => o.Ink == i).DxMm)]),
                    Centred([0, .. inks.Select(i => s.First(o => o.Ink == i).DyMm)]),
                ]
            ))
            .ToList();
        var freedom = inks.Count;
        var total = sheets.Count == 0 ? 0 : sheets.Average(s => s.Axes.Average(a => a.Sum(e => e * e) / freedom));
        var (within, withinFreedom) = Within(sheets.GroupBy(s => $"{s.Run}"), freedom);
        var (jitter, jitterFreedom) = Within(
            sheets.Where(s => s.Pallet > 0).GroupBy(s => $"{s.Run}/{s.Pallet}"),
            freedom
        );
        double Square(double v) => v * v;
        var usualRun = Square(usual.PalletSigmaMm) + Square(usual.JitterSigmaMm);
        var usualAll = usualRun + Square(usual.SetUpSigmaMm);
        // What cannot be told apart is split as the usual press splits it.
        var run = withinFreedom == 0 ? total * usualRun / usualAll : Math.Min(within, total);
        var each = jitterFreedom == 0 ? run * Square(usual.JitterSigmaMm) / usualRun : Math.Min(jitter, run);
        return new(
            Math.Sqrt(Math.Max(0, total - run)),
            Math.Sqrt(Math.Max(0, run - each)),
            Math.Sqrt(each),
            sheets.Count,
            2 * freedom * sheets.Select(s => s.Run).Distinct().Count(),
            withinFreedom,
            jitterFreedom
        );
    }

    private sealed record SheetErrors(int Run, int Pallet, double[][] Axes);

    private static double[] Centred(double[] errors)
    {
        var mean = errors.Average();
        return [.. errors.Select(e => e - mean)];
    }

    /// <summary>Variance within groups of sheets, over both axes and all screens.</summary>
    private static (double Variance, int Freedom) Within(
        IEnumerable<IGrouping<string, SheetErrors>> groups,
        int freedom
    )
    {
        double sum = 0;
        var count = 0;
        foreach (var group in groups)
        {
            var sheets = group.ToList();
            if (sheets.Count < 2)
                continue;
            for (var axis = 0; axis < 2; axis++)
            for (var screen = 0; screen <= freedom; screen++)
            {
                var mean = sheets.Average(s => s.Axes[axis][screen]);
                sum += sheets.Sum(s => (s.Axes[axis][screen] - mean) * (s.Axes[axis][screen] - mean));
            }
            count += 2 * freedom * (sheets.Count - 1);
        }
        return count == 0 ? (0, 0) : (sum / count, count);
    }
}

/// <param name="Sheets">Sheets on which every ink was read.</param>
/// <param name="SetUps">Independent numbers behind the set-up error.</param>
/// <param name="Prints">Independent numbers behind what changes from print to print; 0 = it was not told apart.</param>
/// <param name="Repeats">Independent numbers behind the jitter on one pallet; 0 = it was not told apart.</param>
public sealed record RegisterSpread(
    double SetUpMm,
    double PalletMm,
    double JitterMm,
    int Sheets,
    int SetUps,
    int Prints,
    int Repeats
)
{
    public double TotalMm => Math.Sqrt(SetUpMm * SetUpMm + PalletMm * PalletMm + JitterMm * JitterMm);
}
