using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.TestForms;
using ProofDesk.Printing.Tests.Presses;
using Xunit.Abstractions;

namespace ProofDesk.Printing.Tests.TestForms;

/// <summary>
/// A press whose numbers nobody told is printed with by the simulator; what is read from the print must give them back: growth
/// within 5 um, register within 0.03 mm, lightness of the white within 1.
/// </summary>
public sealed class HiddenPressTests(ITestOutputHelper output)
{
    private const int Sheets = 6;

    [Theory]
    [InlineData(FormCloth.Dark, "61-64", 40, 55, 1.0, 0.62, 0.85, 1.25, 300)]
    public void A_hidden_press_is_found_from_scans_of_its_form(
        FormCloth cloth,
        string mesh,
        double growth,
        double onBase,
        double register,
        double transfer,
        double white,
        double held,
        int ppi
    ) => Recovered(cloth, mesh, growth, onBase, register, transfer, white, held, ppi);

    [SkippableTheory]
    [InlineData(FormCloth.Pale, "61-64", 15, 28, 0.7, 0.7, 1.0, 0.85, 300)]
    [InlineData(FormCloth.Dark, "77-55", 18, 30, 2.2, 0.85, 1.2, 0.8, 600)]
    [InlineData(FormCloth.Pale, "90-40", 38, 62, 1.6, 0.8, 1.0, 1.3, 300)]
    public void A_hidden_press_is_found_on_other_cloth_and_meshes(
        FormCloth cloth,
        string mesh,
        double growth,
        double onBase,
        double register,
        double transfer,
        double white,
        double held,
        int ppi
    )
    {
        Skip.If(
            Environment.GetEnvironmentVariable("PROOFDESK_LONG") != "1",
            "three more presses take 45 s: PROOFDESK_LONG=1"
        );
        Recovered(cloth, mesh, growth, onBase, register, transfer, white, held, ppi);
    }

    private void Recovered(
        FormCloth cloth,
        string mesh,
        double growth,
        double onBase,
        double register,
        double transfer,
        double white,
        double held,
        int ppi
    )
    {
        var hidden = Hidden(growth, onBase, register, transfer, white) with { HeldFeatureScale = held };
        var (form, ground) = (TestForm.Draw(Settings(cloth, mesh)), Cloth(cloth));
        var scan = FormBench.Scan(form, form.Sheet(ground), hidden, 1, ppi);

        var readings = ScanReading.Read(scan, form.Settings, ground, new(ScannedSheet.Whole));
        readings = WithSheets(readings, form, ground, hidden, r => r);
        var fitted = PressFit.Fit([readings], PressSettings.Automatic, "hidden");

        Found(fitted, hidden, form, ground);
        RegisterOfEachSheet(readings, form, ground, hidden, 0.03);
        Assert.InRange(fitted.Press.HeldFeatureScale / held, 1 / HeldWithin, HeldWithin);
        Assert.Equal(DataClass.A, Number(fitted, nameof(PressSettings.GrowthUm)).DataClass);
    }

    [SkippableTheory]
    [InlineData(FormCloth.Pale, 20, 35, 1.0, 0.75, 1.0)]
    [InlineData(FormCloth.Dark, 30, 48, 1.2, 0.7, 0.9)]
    public void A_hidden_press_is_found_from_what_a_person_reads(
        FormCloth cloth,
        double growth,
        double onBase,
        double register,
        double transfer,
        double white
    )
    {
        const string mesh = "61-64";
        Skip.If(
            Environment.GetEnvironmentVariable("PROOFDESK_LONG") != "1",
            "a person takes longer than a scanner, which the usual run has: PROOFDESK_LONG=1"
        );
        var hidden = Hidden(growth, onBase, register, transfer, white);
        var (form, ground) = (TestForm.Draw(Settings(cloth, mesh)), Cloth(cloth));
        // The taper's edges are looked at on the usual film, on all sheets.
        var fine = TestForm.Draw(Settings(cloth, mesh) with { Device = FormBench.Device(1440) });

        var readings = new PressReadings(form.Settings, ground)
        {
            Blocks =
            [
                .. from block in fine.Layout.Blocks.Where(b => b.Plate != 2)
                from sheet in Enumerable.Range(1, Sheets)
                let read = ShopPerson.Growth(fine, fine.Sheet(ground), hidden, (ulong)sheet, block)
                select new BlockReading(
                    form.Settings.Inks[block.Plate].Id,
                    block.Under,
                    null,
                    null,
                    null,
                    null,
                    read,
                    ReadBy.Eye
                ),
            ],
        };
        foreach (var b in readings.Blocks)
            output.WriteLine($"{b.Ink} on {b.Under}: {b.GrowthUm} um typed");
        readings = WithSheets(readings, form, ground, hidden, ShopPerson.Rounded);
        readings = readings with
        {
            Whites =
            [
                .. readings.Whites.Select(w =>
                    w with
                    {
                        Lightness = 0.5 * Math.Round(2 * w.Lightness),
                        By = ReadBy.Eye,
                    }
                ),
            ],
        };
        var fitted = PressFit.Fit([readings], PressSettings.Automatic, "hidden");

        Found(fitted, hidden, form, ground);
        RegisterOfEachSheet(readings, form, ground, hidden, 0.03);
        Assert.Equal(DataClass.B, fitted.Press.DataClass);
    }

    /// <summary>Steps of the wedge that the limits of lost dots can be told by are a fifth to a third apart.</summary>
    private const double HeldWithin = 1.25;

    /// <summary>On pale cloth the register of a second colour is read against the first.</summary>
    private static TestFormSettings Settings(FormCloth cloth, string mesh) =>
        FormBench.Settings(cloth, mesh, cloth == FormCloth.Dark ? ["black"] : ["black", "red"]) with
        {
            Device = FormBench.Device(600),
        };

    private static PressSettings Hidden(double growth, double onBase, double register, double transfer, double white)
    {
        var usual = PressSettings.Automatic;
        return usual with
        {
            GrowthUm = growth,
            GrowthOnBaseUm = onBase,
            SetUpSigmaMm = register * usual.SetUpSigmaMm,
            PalletSigmaMm = register * usual.PalletSigmaMm,
            JitterSigmaMm = register * usual.JitterSigmaMm,
            Transfer = transfer,
            WhiteOpacityScale = white,
        };
    }

    /// <summary>Register from further sheets, each a set-up of its own, and the white passes of dark cloth, at the proof's own resolution.</summary>
    private static PressReadings WithSheets(
        PressReadings readings,
        TestForm form,
        Ground ground,
        PressSettings hidden,
        Func<RegisterReading, RegisterReading> read
    )
    {
        var register = ImmutableArray.CreateBuilder<RegisterReading>();
        for (var sheet = 1; sheet <= Sheets; sheet++)
        {
            var print = PrintSimulator.Print(
                form.Films,
                form.Sheet(ground),
                hidden,
                Deposit.Expected,
                ViewingLight.D65,
                (ulong)sheet
            );
            var of = new ScanOf(ScannedSheet.Register, sheet, Run: sheet);
            register.AddRange(ScanReading.Read(print.Print, form.Settings, ground, of).Register.Select(read));
        }
        readings = readings with { Register = register.ToImmutable() };
        if (form.Settings.Cloth == FormCloth.Pale)
            return readings;
        var whites = readings.Whites.ToBuilder();
        foreach (var pass in Enum.GetValues<WhitePass>())
        {
            var print = PrintSimulator.Print(
                form.Films,
                form.WhiteOnly(ground, pass),
                hidden,
                Deposit.Expected,
                ViewingLight.D65,
                9
            );
            var of = new ScanOf(ScannedSheet.WhiteOnly) { White = pass };
            whites.AddRange(ScanReading.Read(print.Print, form.Settings, ground, of).Whites);
        }
        return readings with { Whites = whites.ToImmutable() };
    }

    private void Found(FittedPress fitted, PressSettings hidden, TestForm form, Ground ground)
    {
        foreach (var n in fitted.Numbers)
            output.WriteLine(
                $"{n.Name} {n.Value:0.###} {n.Unit} class {n.DataClass}, residual {n.Residual:0.###}: {n.From}"
            );
        foreach (var line in fitted.CannotTell)
            output.WriteLine($"cannot tell {line}");
        var press = fitted.Press;
        Near(hidden.GrowthUm, press.GrowthUm, 5, "growth on cloth, um");
        Near(hidden.GrowthOnBaseUm, press.GrowthOnBaseUm, 5, "growth on base, um");
        Near(RegisterError.Sigma(hidden), RegisterError.Sigma(press), 0.03, "register sigma, mm");
        if (form.Settings.Cloth == FormCloth.Pale)
        {
            Assert.Contains(
                fitted.CannotTell,
                line => line.StartsWith("opacity of the white", StringComparison.Ordinal)
            );
            return;
        }
        foreach (var pass in Enum.GetValues<WhitePass>())
        {
            var model = new DepositFit(new(form.Settings, ground));
            Near(model.Lightness(pass, hidden), model.Lightness(pass, press), 1, $"L* of {pass}");
        }
    }

    private void RegisterOfEachSheet(
        PressReadings readings,
        TestForm form,
        Ground ground,
        PressSettings hidden,
        double within
    )
    {
        var worst = 0.0;
        foreach (var offset in RegisterFit.Offsets(readings))
        {
            var plates = Enumerable
                .Range(0, form.Films.Plates.Length)
                .Select(plate => RegisterError.Draw(hidden, Deposit.Expected, (ulong)offset.Sheet, plate))
                .ToList();
            var (reference, ink) = (
                plates[form.Settings.ReferencePlate],
                plates[form.Settings.Inks.ToList().FindIndex(i => i.Id == offset.Ink)]
            );
            worst = Math.Max(worst, Math.Abs(ink.DxMm - reference.DxMm - offset.DxMm));
            worst = Math.Max(worst, Math.Abs(ink.DyMm - reference.DyMm - offset.DyMm));
        }
        output.WriteLine($"register of {Sheets} sheets found within {worst:0.0000} mm");
        Assert.True(worst <= within, $"an ink lay {worst} mm from where it was read; {within} allowed on {ground.Id}");
    }

    private void Near(double hidden, double found, double within, string what)
    {
        output.WriteLine($"{what}: hidden {hidden:0.###}, found {found:0.###}");
        Assert.True(Math.Abs(hidden - found) <= within, $"{what}: hidden {hidden}, found {found}; {within} allowed");
    }

    private static FittedNumber Number(FittedPress fitted, string name) => fitted.Numbers.Single(n => n.Name == name);

    private static Ground Cloth(FormCloth cloth) => cloth == FormCloth.Dark ? PressBench.Black : PressBench.White;
}
