using System.Collections.Immutable;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.TestForms;

/// <summary>What a scan shows.</summary>
public enum ScannedSheet
{
    /// <summary>White, flash, colours: everything is read.</summary>
    Whole,

    /// <summary>A further sheet of the run: only its register is read.</summary>
    Register,

    /// <summary>A piece that only the white screen printed.</summary>
    WhiteOnly,
}

/// <summary>Which sheet was scanned.</summary>
public sealed record ScanOf(ScannedSheet Sheet, int Number = 1, int Run = 1, int Pallet = 0)
{
    public WhitePass White { get; init; } = WhitePass.OneStroke;
}

/// <summary>Readings from a scan of the form: the form's own corner marks are the scale.</summary>
public static class ScanReading
{
    /// <exception cref="ScanProblem">The scan cannot be read; the message says what to do.</exception>
    public static PressReadings Read(RgbPicture scan, TestFormSettings form, Ground ground, ScanOf of)
    {
        var layout = new TestFormLayout(form);
        var sheet = FormScan.Of(scan, layout);
        var readings = new PressReadings(form, ground);
        if (of.Sheet == ScannedSheet.WhiteOnly)
            return readings with { Whites = [White(sheet, form, layout, of.White)] };
        readings = readings with { Register = Register(sheet, form, layout, of) };
        if (of.Sheet == ScannedSheet.Register)
            return readings;

        var blocks = layout.Blocks.Select(b => (Block: b, Scan: new BlockScan(sheet, form, b))).ToList();
        var shown = blocks.Where(b => b.Scan.Shows).ToList();
        if (shown.Count == 0)
            throw new ScanProblem(
                "no block of the form differs from its ground",
                "check that the scan is of this form, and that the inks show on this cloth"
            );
        return readings with
        {
            Blocks = [.. shown.Select(b => b.Scan.Read())],
            Solids =
            [
                .. shown
                    .Where(b => b.Block.Plate > 0)
                    .Select(b => new SolidReading(
                        form.Inks[b.Block.Plate].Id,
                        b.Block.Under,
                        b.Scan.SolidLab,
                        ReadBy.Scan
                    )),
            ],
            Whites = form.Cloth == FormCloth.Dark ? [White(sheet, form, layout, of.White)] : [],
        };
    }

    private static WhiteReading White(FormScan sheet, TestFormSettings form, TestFormLayout layout, WhitePass pass)
    {
        if (form.Cloth != FormCloth.Dark)
            throw new ScanProblem("white does not show on a pale cloth", "print the form for dark cloth and scan that");
        var block = new BlockScan(sheet, form, layout.Blocks[0]);
        return new(pass, Math.Round(block.SolidLab.L, 2), ReadBy.Scan);
    }

    private static ImmutableArray<RegisterReading> Register(
        FormScan sheet,
        TestFormSettings form,
        TestFormLayout layout,
        ScanOf of
    ) =>
        [
            .. layout
                .Verniers.GroupBy(v => (v.Plate, v.Corner))
                .Select(pair => new RegisterReading(
                    of.Number,
                    of.Run,
                    of.Pallet,
                    form.Inks[pair.Key.Plate].Id,
                    pair.Key.Corner,
                    Math.Round(VernierScan.OffsetMm(sheet, pair.Single(v => v.AlongX)), 4),
                    Math.Round(VernierScan.OffsetMm(sheet, pair.Single(v => !v.AlongX)), 4),
                    ReadBy.Scan
                )),
        ];
}
