using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.TestForms;

namespace ProofDesk.Printing.Tests.TestForms;

/// <summary>Somebody with a loupe, who reads scales to their marks and colours to half a step.</summary>
internal static class ShopPerson
{
    /// <summary>Where the taper is half open, half closed, to half a mark of its scale.</summary>
    public static double Growth(TestForm form, GroundPlan plan, PressSettings press, ulong seed, FormBlock block)
    {
        const double Rim = 1;
        var (left, top) = (block.X + TestFormLayout.TaperLeft - Rim, block.Y + TestFormLayout.TaperTop - Rim);
        var seen = Loupe.Look(
            form.Films,
            plan,
            press,
            Deposit.Expected,
            ViewingLight.D65,
            seed,
            left,
            top,
            TaperGap.LengthMm - 2,
            TaperGap.LengthMm - 2
        );
        // Ink of the bars' middle, ground beside them.
        var ink = Mean(seen, TaperGap.Point(15, 1.5));
        var ground = Mean(seen, TaperGap.Point(15, -TaperGap.BarMm - 1.5));
        // A gap in dark ink is shaded by its own walls but still lighter than they are: in linear light a fortieth is a tenth to
        // the eye. One in white ink is plainly dark.
        var open = ink + (ground < ink ? 0.5 : 0.025) * (ground - ink);
        // The eye follows the gap from its wide end; the screen may have landed beside where it was drawn.
        var wide = Enumerable
            .Range(-40, 81)
            .Select(i => i * 0.01)
            .Select(across =>
                (
                    Across: across,
                    Open: Enumerable
                        .Range(0, 60)
                        .Sum(i => Math.Abs(Light(seen, TaperGap.Point(26 + i * 0.05, across)) - ink))
                )
            )
            .ToList();
        var (least, most) = (wide.Min(w => w.Open), wide.Max(w => w.Open));
        var within = wide.Where(w => w.Open > (least + most) / 2).ToList();
        var middle = within.Average(w => w.Across);
        var cuts = new List<(double Along, bool Open)>();
        for (var along = 0.5; along < TaperGap.LengthMm - 0.5; along += 0.02)
        {
            double At(double beside) => Light(seen, TaperGap.Point(along, middle + beside));
            // The eye finds the thread where it runs.
            double[] cut = [At(-0.006), At(0), At(0.006)];
            cuts.Add((along, ground > ink ? cut.Max() > open : cut.Min() < open));
        }
        // Three millimetres at a time, half way between what the closed end and the wide end show: a base has specks in both.
        // Where it is first half open and where it is last half closed lie a little apart.
        const int Window = 150;
        var shares = new List<int> { cuts.Take(Window).Count(c => c.Open) };
        for (var i = Window; i < cuts.Count; i++)
            shares.Add(shares[^1] + (cuts[i].Open ? 1 : 0) - (cuts[i - Window].Open ? 1 : 0));
        var half = (shares[0] + shares[^1]) / 2;
        var (first, last) = (shares.FindIndex(s => s >= half), shares.FindLastIndex(s => s < half));
        var growth = TaperGap.GrowthUm(cuts[Math.Max(0, (first + last) / 2) + Window / 2].Along);
        return 2.5 * Math.Round(growth / 2.5);

        double Light(RgbPicture picture, (double X, double Y) at)
        {
            var x = (int)((block.X + at.X - left) * picture.PixelsPerMm);
            var y = (int)((block.Y + at.Y - top) * picture.PixelsPerMm);
            var c = FormScan.Mean(picture, x, y, 1, 1);
            return c.R + c.G + c.B;
        }

        double Mean(RgbPicture picture, (double X, double Y) at)
        {
            var sum = 0.0;
            for (var v = -5; v < 5; v++)
            for (var u = -5; u < 5; u++)
                sum += Light(picture, (at.X + u * 0.05, at.Y + v * 0.05));
            return sum / 100;
        }
    }

    /// <summary>Verniers as the eye has them: the line that meets best, a step of 0.05 mm.</summary>
    public static RegisterReading Rounded(RegisterReading measured) =>
        measured with
        {
            XMm = Coincidence(measured.XMm),
            YMm = Coincidence(measured.YMm),
            By = ReadBy.Eye,
        };

    private static double Coincidence(double mm) =>
        TestFormLayout.VernierStepMm * Math.Round(mm / TestFormLayout.VernierStepMm);
}
