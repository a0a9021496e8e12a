using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>
/// Deposit, opacity of the white and its standing fibres, found by predicting the solids of the form with the forward model
/// and moving the numbers until they come out as read.
/// </summary>
internal sealed class DepositFit(PressReadings readings)
{
    /// <summary>Solids that move by less than this (dE00) over the plausible range of deposits cannot tell it.</summary>
    private const double LeastTelling = 2;

    /// <summary>L* of a white pass on the cloth.</summary>
    public double Lightness(WhitePass pass, PressSettings press)
    {
        var white = new InkPass(readings.Form.White, readings.Form.Mesh, 1, true);
        InkPass[] runs = pass == WhitePass.PrintFlashPrint ? [white, white] : [white with { Strokes = 1 + (int)pass }];
        return LabOf(Solid.Colour(readings.Ground, runs, press, Deposit.Expected)).L;
    }

    /// <summary>Colour of an ink's solid.</summary>
    public Lab Colour(SolidReading solid, PressSettings press)
    {
        var ink = readings.Form.Inks.First(i => i.Id == solid.Ink);
        var colour = new InkPass(ink, readings.Form.Mesh, 1, false);
        InkPass[] runs =
            solid.Under == FormUnder.Base ? [new(readings.Form.White, readings.Form.Mesh, 1, true), colour] : [colour];
        var spectrum = Solid.Colour(readings.Ground, runs, press, Deposit.Expected);
        if (solid.By != ReadBy.Scan)
            return LabOf(spectrum);
        // A scan is sRGB: its white is D65 and colours outside it come back as their nearest inside.
        var linear = Srgb.FromXyz(Tristimulus.Of(spectrum, ViewingLight.D65), ViewingLight.D65);
        return Srgb.ToLab(GamutMapping.IntoSrgb(linear));
    }

    /// <summary>Share that leaves the mesh, by weight: wet grams over the weavers' theoretical volume.</summary>
    public double? WeighedTransfer() =>
        readings.Weighed.Length == 0
            ? null
            : readings.Weighed.Average(w =>
                w.GramsPerM2
                / (
                    readings.Form.Mesh.TheoreticalInkVolume
                    * readings.Form.Inks.First(i => i.Id == w.Ink).DensityGramsPerCm3
                )
            );

    /// <summary>The same from measured solids of colours, or null when they hardly depend on it.</summary>
    public double? SeenTransfer(PressSettings press)
    {
        var solids = readings.Solids.Where(s => s.By != ReadBy.Eye).ToList();
        var telling = solids.Where(s => Moves(s, press) >= LeastTelling).ToList();
        if (telling.Count == 0)
            return null;
        return Least(0.4, 1.2, t => telling.Sum(s => Miss(s, press with { Transfer = t })));
    }

    /// <summary>Scattering of the white over the library's, and the standing fibres of a first pass when more than one pass was read.</summary>
    public (double Opacity, double? Fibres) White(PressSettings press)
    {
        double Error(double opacity, double fibres) =>
            readings.Whites.Sum(w =>
                Square(
                    Lightness(w.Pass, press with { WhiteOpacityScale = opacity, BareFibreFirstPass = fibres })
                        - w.Lightness
                )
            );
        double Opacity(double fibres) => Least(0.3, 2.5, s => Error(s, fibres));
        if (readings.Whites.Select(w => w.Pass).Distinct().Count() < 2)
            return (Opacity(press.BareFibreFirstPass), null);
        // The usual share is kept unless the readings say otherwise: a hundredth of area costs as much as 0.1 L*.
        var fibre = Least(0, 0.35, f => Error(Opacity(f), f) + Square(10 * (f - press.BareFibreFirstPass)));
        return (Opacity(fibre), fibre);
    }

    private double Moves(SolidReading solid, PressSettings press) =>
        Ciede2000.Difference(
            Colour(solid, press with { Transfer = 0.55 }),
            Colour(solid, press with { Transfer = 0.95 })
        );

    private double Miss(SolidReading solid, PressSettings press) =>
        Square(Ciede2000.Difference(Colour(solid, press), solid.Lab));

    /// <summary>The least of a function with one valley: thirds, then golden section.</summary>
    private static double Least(double from, double to, Func<double, double> of)
    {
        const int Net = 12;
        var start = Enumerable.Range(0, Net + 1).MinBy(i => of(from + (to - from) * i / Net));
        var step = (to - from) / Net;
        var (a, b) = (Math.Max(from, from + (start - 1) * step), Math.Min(to, from + (start + 1) * step));
        const double Golden = 0.6180339887498949;
        var (c, d) = (b - Golden * (b - a), a + Golden * (b - a));
        var (fc, fd) = (of(c), of(d));
        for (var i = 0; i < 18; i++)
        {
            if (fc < fd)
            {
                (b, d, fd) = (d, c, fc);
                c = b - Golden * (b - a);
                fc = of(c);
            }
            else
            {
                (a, c, fc) = (c, d, fd);
                d = a + Golden * (b - a);
                fd = of(d);
            }
        }
        return (a + b) / 2;
    }

    private static double Square(double v) => v * v;

    private static Lab LabOf(Spectrum spectrum) =>
        CieLab.FromXyz(Tristimulus.Of(spectrum, ViewingLight.D50), ViewingLight.D50);
}
