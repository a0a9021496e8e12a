using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.TestForms;

/// <summary>
/// The shop's own press from what it read on its test forms: one set of readings for each mesh and cloth. Each number
/// says what it was found from; what was not read keeps the trade's default and is listed.
/// </summary>
public static class PressFit
{
    /// <exception cref="ReadingsRefused">Some readings cannot be so.</exception>
    public static FittedPress Fit(IReadOnlyList<PressReadings> forms, PressSettings usual, string name)
    {
        var refused = forms
            .SelectMany(f => ReadingChecks.Of(f))
            .Where(f => f.Weight == FindingWeight.Refusal)
            .ToImmutableArray();
        if (forms.Count == 0 || forms.All(f => !f.Blocks.Any(IsRead) && f.Register.Length + f.Whites.Length == 0))
            refused = refused.Add(
                new(
                    "nothing-read",
                    FindingWeight.Refusal,
                    "the sheet has no reading in it",
                    "type what the printed form shows, or give a scan of it"
                )
            );
        if (refused.Length > 0)
            throw new ReadingsRefused(refused);
        var fit = new Fitting(usual with { Name = name });
        fit.Growth(forms, FormUnder.Cloth);
        fit.Growth(forms, FormUnder.Base);
        fit.Register(forms);
        fit.Held(forms);
        fit.Deposit(forms);
        fit.White(forms);
        return fit.Finish();
    }

    /// <summary>A block of the blank sheet stands there with nothing in it.</summary>
    private static bool IsRead(BlockReading block) =>
        block
            is not {
                GrowthUm: null,
                FirstStepHeldPercent: null,
                LastStepOpenPercent: null,
                ThinnestLineUm: null,
                ThinnestGapUm: null
            };

    private sealed class Fitting(PressSettings given)
    {
        private readonly List<FittedNumber> _numbers = [];
        private readonly List<string> _unknown = [];
        private readonly List<Finding> _findings = [];
        private readonly PressSettings _usual = given;
        private PressSettings _press = given;

        public void Growth(IReadOnlyList<PressReadings> forms, FormUnder under)
        {
            var on = under == FormUnder.Base ? "on a white base" : "on bare cloth";
            var name = under == FormUnder.Base ? nameof(PressSettings.GrowthOnBaseUm) : nameof(PressSettings.GrowthUm);
            var was = under == FormUnder.Base ? _usual.GrowthOnBaseUm : _usual.GrowthUm;
            var blocks = forms
                .SelectMany(f => f.Blocks.Where(b => b.Under == under).Select(b => (f.Form, Block: b)))
                .ToList();
            var direct = blocks.Where(b => b.Block.GrowthUm is not null).ToList();
            var read = direct.Select(b => b.Block.GrowthUm!.Value).ToList();
            var from = "the taper";
            var by = direct.Select(b => b.Block.By);
            if (direct.Any(b => b.Block.By != ReadBy.Eye))
            {
                // A scan measures what the eye estimates.
                read = [.. direct.Where(b => b.Block.By != ReadBy.Eye).Select(b => b.Block.GrowthUm!.Value)];
                (from, by) = ("the rings of a scan", [ReadBy.Instrument]);
            }
            if (read.Count == 0)
            {
                var open = blocks.Where(b => b.Block.LastStepOpenPercent is not null).ToList();
                read = [.. open.Select(b => FromHoles(b.Form, b.Block.LastStepOpenPercent!.Value))];
                (from, by) = ("the last step open, coarsely: one step of the wedge is 10 um and more", [ReadBy.Eye]);
            }
            if (read.Count == 0)
            {
                _unknown.Add($"growth {on}: no block of it was read");
                return;
            }
            var value = read.Average();
            _press =
                under == FormUnder.Base ? _press with { GrowthOnBaseUm = value } : _press with { GrowthUm = value };
            Add(
                name,
                $"ink growth at an edge {on}",
                was,
                value,
                "um",
                by,
                Deviation(read),
                $"{from}, {Count(read.Count, "block")}"
            );
            if (read.Count > 1 && Deviation(read) > 8)
                _findings.Add(
                    new(
                        "growth-differs",
                        FindingWeight.Warning,
                        FormattableString.Invariant(
                            $"growth {on} was read from {read.Min():0} to {read.Max():0} um; one number stands for all inks and meshes"
                        ),
                        "read the far ones again; if they stay, keep a press of its own for that mesh or ink",
                        read.Max() - read.Min(),
                        8,
                        "um"
                    )
                );
        }

        /// <summary>Growth that closes the next darker step's holes but not this one's: the middle of the two.</summary>
        private static double FromHoles(TestFormSettings form, double percent)
        {
            var step = TestFormLayout.StepsPercent.IndexOf((int)percent);
            double Closing(int i) =>
                i >= TestFormLayout.StepsPercent.Length
                    ? 0
                    : Enumerable
                        .Range(0, 121)
                        .FirstOrDefault(
                            g =>
                                new ToneCompensation(form.Ruling, g, Screening.DotShape.Euclidean).Printed(
                                    TestFormLayout.StepsPercent[i] / 100.0
                                ) > 0.999,
                            120
                        );
            return (Closing(step) + Closing(step + 1)) / 2;
        }

        public void Register(IReadOnlyList<PressReadings> forms)
        {
            var readings = forms.Where(f => f.Register.Length > 0).ToList();
            if (readings.Count == 0)
            {
                _unknown.Add("register: no vernier was read");
                return;
            }
            // Sheets of different forms are different set-ups.
            var offsets = readings
                .SelectMany((f, i) => RegisterFit.Offsets(f).Select(o => o with { Run = 1000 * i + o.Run }))
                .GroupBy(o => o.Run / 1000)
                .ToList();
            var spreads = offsets.Select(o => RegisterFit.Spread([.. o], _usual)).Where(s => s.Sheets > 0).ToList();
            if (spreads.Count == 0)
            {
                _unknown.Add("register: on no sheet was every ink read");
                return;
            }
            double Mean(Func<RegisterSpread, double> of) => Math.Sqrt(spreads.Average(s => of(s) * of(s)));
            var (setUp, pallet, jitter) = (Mean(s => s.SetUpMm), Mean(s => s.PalletMm), Mean(s => s.JitterMm));
            _press = _press with { SetUpSigmaMm = setUp, PalletSigmaMm = pallet, JitterSigmaMm = jitter };
            var (sheets, free) = (spreads.Sum(s => s.Sheets), spreads.Sum(s => s.SetUps + s.Prints));
            var by = readings.SelectMany(f => f.Register.Select(r => r.By));
            // One standard deviation of a standard deviation from n numbers is about 1 / sqrt(2 n) of it.
            var unsure = 1 / Math.Sqrt(2.0 * free);
            var from = FormattableString.Invariant(
                $"verniers of {Count(sheets, "sheet")}, good to {100 * unsure:0} % of itself"
            );
            Add(
                nameof(PressSettings.SetUpSigmaMm),
                "register error of a set-up, one sigma",
                _usual.SetUpSigmaMm,
                setUp,
                "mm",
                by,
                unsure * setUp,
                from
            );
            Add(
                nameof(PressSettings.PalletSigmaMm),
                "register error of a pallet, one sigma",
                _usual.PalletSigmaMm,
                pallet,
                "mm",
                by,
                unsure * pallet,
                from
            );
            Add(
                nameof(PressSettings.JitterSigmaMm),
                "register error of each print, one sigma",
                _usual.JitterSigmaMm,
                jitter,
                "mm",
                by,
                unsure * jitter,
                from
            );
            if (spreads.All(s => s.Prints == 0))
                _unknown.Add(
                    "how the register error divides into set-up and print: one sheet of each set-up was read; it is divided as usual"
                );
            else if (spreads.All(s => s.Repeats == 0))
                _unknown.Add(
                    "how the error from print to print divides into pallet and jitter: no pallet was read twice; it is divided as usual"
                );
            if (sheets < 4)
                _findings.Add(
                    new(
                        "few-sheets",
                        FindingWeight.Warning,
                        $"register rests on {Count(sheets, "sheet")}; a spread wants 6",
                        "read further sheets of the same run, and of a second set-up",
                        sheets,
                        6,
                        "sheets"
                    )
                );
        }

        public void Held(IReadOnlyList<PressReadings> forms)
        {
            var scales = new List<double>();
            var by = new List<ReadBy>();
            foreach (
                var form in forms.Where(f =>
                    f.Blocks.Any(b => b.ThinnestLineUm is not null || b.FirstStepHeldPercent is not null)
                )
            )
            {
                var held = new HeldFit(form.Form);
                foreach (var block in form.Blocks)
                {
                    double?[] found =
                    [
                        block.ThinnestLineUm is { } line ? held.FromLine(line) : null,
                        block.FirstStepHeldPercent is { } step ? held.FromStep(step) : null,
                    ];
                    foreach (var scale in found.OfType<double>())
                    {
                        scales.Add(scale);
                        by.Add(block.By);
                    }
                }
            }
            if (scales.Count == 0)
            {
                _unknown.Add(
                    "lost dots: neither a thinnest line nor a first step held was read that the model can print"
                );
                return;
            }
            var value = Math.Exp(scales.Average(Math.Log));
            _press = _press with { HeldFeatureScale = value };
            Add(
                nameof(PressSettings.HeldFeatureScale),
                "smallest dots and lines held, relative to the mesh's w to 2 d + w",
                _usual.HeldFeatureScale,
                value,
                "x",
                by,
                Deviation(scales),
                $"thinnest lines and first steps held, {Count(scales.Count, "reading")}"
            );
        }

        public void Deposit(IReadOnlyList<PressReadings> forms)
        {
            var weighed = forms.Select(f => new DepositFit(f).WeighedTransfer()).OfType<double>().ToList();
            if (weighed.Count > 0)
            {
                _press = _press with { Transfer = weighed.Average() };
                Add(
                    nameof(PressSettings.Transfer),
                    "share of the mesh's ink volume that reaches the cloth",
                    _usual.Transfer,
                    _press.Transfer,
                    "",
                    [ReadBy.Instrument],
                    Deviation(weighed),
                    "weighed prints"
                );
                return;
            }
            var seen = forms.Select(f => new DepositFit(f).SeenTransfer(_press)).OfType<double>().ToList();
            if (seen.Count == 0)
            {
                _unknown.Add(
                    "deposit: no print was weighed and no measured solid tells it; a stronger or weaker ink would look the same"
                );
                return;
            }
            _press = _press with { Transfer = seen.Average() };
            // The inks' own strength is in it, which the library only assumes.
            Add(
                nameof(PressSettings.Transfer),
                "share of the mesh's ink volume that reaches the cloth",
                _usual.Transfer,
                _press.Transfer,
                "",
                [ReadBy.Eye],
                Deviation(seen),
                "measured solids, as far as the library knows how strong these inks are; weighing tells the two apart"
            );
        }

        public void White(IReadOnlyList<PressReadings> forms)
        {
            var readings = forms.Where(f => f.Whites.Length > 0).ToList();
            if (readings.Count == 0)
            {
                _unknown.Add("opacity of the white: no lightness of a white on dark cloth was read");
                return;
            }
            var found = readings.Select(f => new DepositFit(f).White(_press)).ToList();
            _press = _press with { WhiteOpacityScale = Math.Exp(found.Average(f => Math.Log(f.Opacity))) };
            var fibres = found.Select(f => f.Fibres).OfType<double>().ToList();
            if (fibres.Count > 0)
                _press = _press with { BareFibreFirstPass = fibres.Average() };
            var misses = readings
                .SelectMany(f => f.Whites.Select(w => new DepositFit(f).Lightness(w.Pass, _press) - w.Lightness))
                .ToList();
            // A scanner is no instrument for lightness.
            var by = readings.SelectMany(f => f.Whites.Select(w => w.By == ReadBy.Scan ? ReadBy.Eye : w.By)).ToList();
            var miss = Math.Sqrt(misses.Average(m => m * m));
            Add(
                nameof(PressSettings.WhiteOpacityScale),
                "scattering of the white relative to the library's",
                _usual.WhiteOpacityScale,
                _press.WhiteOpacityScale,
                "x",
                by,
                null,
                FormattableString.Invariant($"L* of the white, {Count(misses.Count, "pass")}, met to {miss:0.0} L*")
            );
            if (fibres.Count > 0)
                Add(
                    nameof(PressSettings.BareFibreFirstPass),
                    "share of fibres standing through a first pass",
                    _usual.BareFibreFirstPass,
                    _press.BareFibreFirstPass,
                    "",
                    by,
                    null,
                    "L* of one pass against several"
                );
            else
                _unknown.Add(
                    "standing fibres: only one kind of white pass was read; print two strokes and print-flash-print too"
                );
            if (miss > 2)
                _findings.Add(
                    new(
                        "white-not-met",
                        FindingWeight.Warning,
                        FormattableString.Invariant(
                            $"the white's lightness is met to {miss:0.0} L* only; 2 is what a reading may be off"
                        ),
                        "measure the solids again, dry and cooled; check that strokes and flash were as written",
                        miss,
                        2,
                        "L*"
                    )
                );
            if (_press.Transfer == _usual.Transfer)
                _unknown.Add("deposit and opacity of the white apart: lightness shows their product");
        }

        public FittedPress Finish()
        {
            _unknown.Add(
                "wicking, wet trapping, how a later stroke transfers, how ragged edges are: the trade's defaults stay"
            );
            _unknown.Add(
                "other cloth than the one printed, and how the press changes as squeegee and mesh wear: print the form again"
            );
            var worst = _numbers.Count == 0 ? _usual.DataClass : _numbers.Max(n => n.DataClass);
            return new(_press with { DataClass = worst }, [.. _numbers], [.. _unknown], [.. _findings]);
        }

        private void Add(
            string name,
            string words,
            double was,
            double value,
            string unit,
            IEnumerable<ReadBy> by,
            double? residual,
            string from
        ) =>
            _numbers.Add(
                new(
                    name,
                    words,
                    was,
                    value,
                    unit,
                    by.All(b => b != ReadBy.Eye) ? DataClass.A : DataClass.B,
                    residual,
                    from
                )
            );

        private static double? Deviation(List<double> values)
        {
            if (values.Count < 2)
                return null;
            var mean = values.Average();
            return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Count - 1));
        }

        private static string Count(int count, string what) =>
            $"{count} {what}{(count == 1 ? "" : what.EndsWith('s') ? "es" : "s")}";
    }
}
