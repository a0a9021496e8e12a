using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>Set-up, pallet and jitter from the verniers of all sheets.</summary>
internal static class RegisterNumbers
{
    public static void Register(PressDraft draft, IReadOnlyList<PressReadings> forms)
    {
        var readings = forms.Where(f => f.Register.Length > 0).ToList();
        if (readings.Count == 0)
        {
            draft.CannotTell("register: no vernier was read");
            return;
        }
        // Sheets of different forms are different set-ups.
        var offsets = readings
            .SelectMany((f, i) => RegisterFit.Offsets(f).Select(o => o with { Run = 1000 * i + o.Run }))
            .GroupBy(o => o.Run / 1000)
            .ToList();
        var spreads = offsets.Select(o => RegisterFit.Spread([.. o], draft.Usual)).Where(s => s.Sheets > 0).ToList();
        if (spreads.Count == 0)
        {
            draft.CannotTell("register: on no sheet was every ink read");
            return;
        }
        double Mean(Func<RegisterSpread, double> of) => Math.Sqrt(spreads.Average(s => of(s) * of(s)));
        var (setUp, pallet, jitter) = (Mean(s => s.SetUpMm), Mean(s => s.PalletMm), Mean(s => s.JitterMm));
        draft.Press = draft.Press with { SetUpSigmaMm = setUp, PalletSigmaMm = pallet, JitterSigmaMm = jitter };
        var (sheets, free) = (spreads.Sum(s => s.Sheets), spreads.Sum(s => s.SetUps + s.Prints));
        var by = readings.SelectMany(f => f.Register.Select(r => r.By));
        // One standard deviation of a standard deviation from n numbers is about 1 / sqrt(2 n) of it.
        var unsure = 1 / Math.Sqrt(2.0 * free);
        var from = FormattableString.Invariant(
            $"verniers of {PressDraft.Count(sheets, "sheet")}, good to {100 * unsure:0} % of itself"
        );
        draft.Add(
            nameof(PressSettings.SetUpSigmaMm),
            "register error of a set-up, one sigma",
            draft.Usual.SetUpSigmaMm,
            setUp,
            "mm",
            by,
            unsure * setUp,
            from
        );
        draft.Add(
            nameof(PressSettings.PalletSigmaMm),
            "register error of a pallet, one sigma",
            draft.Usual.PalletSigmaMm,
            pallet,
            "mm",
            by,
            unsure * pallet,
            from
        );
        draft.Add(
            nameof(PressSettings.JitterSigmaMm),
            "register error of each print, one sigma",
            draft.Usual.JitterSigmaMm,
            jitter,
            "mm",
            by,
            unsure * jitter,
            from
        );
        if (spreads.All(s => s.Prints == 0))
            draft.CannotTell(
                "how the register error divides into set-up and print: one sheet of each set-up was read; it is divided as usual"
            );
        else if (spreads.All(s => s.Repeats == 0))
            draft.CannotTell(
                "how the error from print to print divides into pallet and jitter: no pallet was read twice; it is divided as usual"
            );
        if (sheets < 4)
            draft.Findings.Add(
                new(
                    "few-sheets",
                    FindingWeight.Warning,
                    $"register rests on {PressDraft.Count(sheets, "sheet")}; a spread wants 6",
                    "read further sheets of the same run, and of a second set-up",
                    sheets,
                    6,
                    "sheets"
                )
            );
    }
}
