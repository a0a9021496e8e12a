using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>Ink that reaches the cloth, and what the white among it hides.</summary>
internal static class DepositNumbers
{
    public static void Deposit(PressDraft draft, IReadOnlyList<PressReadings> forms)
    {
        var weighed = forms.Select(f => new DepositFit(f).WeighedTransfer()).OfType<double>().ToList();
        if (weighed.Count > 0)
        {
            draft.Press = draft.Press with { Transfer = weighed.Average() };
            draft.Add(
                nameof(PressSettings.Transfer),
                "share of the mesh's ink volume that reaches the cloth",
                draft.Usual.Transfer,
                draft.Press.Transfer,
                "",
                [ReadBy.Instrument],
                PressDraft.Deviation(weighed),
                "weighed prints"
            );
            return;
        }
        var seen = forms.Select(f => new DepositFit(f).SeenTransfer(draft.Press)).OfType<double>().ToList();
        if (seen.Count == 0)
        {
            draft.CannotTell(
                "deposit: no print was weighed and no measured solid tells it; a stronger or weaker ink would look the same"
            );
            return;
        }
        draft.Press = draft.Press with { Transfer = seen.Average() };
        // The inks' own strength is in it, which the library only assumes.
        draft.Add(
            nameof(PressSettings.Transfer),
            "share of the mesh's ink volume that reaches the cloth",
            draft.Usual.Transfer,
            draft.Press.Transfer,
            "",
            [ReadBy.Eye],
            PressDraft.Deviation(seen),
            "measured solids, as far as the library knows how strong these inks are; weighing tells the two apart"
        );
    }

    public static void White(PressDraft draft, IReadOnlyList<PressReadings> forms)
    {
        var readings = forms.Where(f => f.Whites.Length > 0).ToList();
        if (readings.Count == 0)
        {
            draft.CannotTell("opacity of the white: no lightness of a white on dark cloth was read");
            return;
        }
        var found = readings.Select(f => new DepositFit(f).White(draft.Press)).ToList();
        draft.Press = draft.Press with { WhiteOpacityScale = Math.Exp(found.Average(f => Math.Log(f.Opacity))) };
        var fibres = found.Select(f => f.Fibres).OfType<double>().ToList();
        if (fibres.Count > 0)
            draft.Press = draft.Press with { BareFibreFirstPass = fibres.Average() };
        var misses = readings
            .SelectMany(f => f.Whites.Select(w => new DepositFit(f).Lightness(w.Pass, draft.Press) - w.Lightness))
            .ToList();
        // A scanner is no instrument for lightness.
        var by = readings.SelectMany(f => f.Whites.Select(w => w.By == ReadBy.Scan ? ReadBy.Eye : w.By)).ToList();
        var miss = Math.Sqrt(misses.Average(m => m * m));
        draft.Add(
            nameof(PressSettings.WhiteOpacityScale),
            "scattering of the white relative to the library's",
            draft.Usual.WhiteOpacityScale,
            draft.Press.WhiteOpacityScale,
            "x",
            by,
            null,
            FormattableString.Invariant(
                $"L* of the white, {PressDraft.Count(misses.Count, "pass")}, met to {miss:0.0} L*"
            )
        );
        if (fibres.Count > 0)
            draft.Add(
                nameof(PressSettings.BareFibreFirstPass),
                "share of fibres standing through a first pass",
                draft.Usual.BareFibreFirstPass,
                draft.Press.BareFibreFirstPass,
                "",
                by,
                null,
                "L* of one pass against several"
            );
        else
            draft.CannotTell(
                "standing fibres: only one kind of white pass was read; print two strokes and print-flash-print too"
            );
        if (miss > 2)
            draft.Findings.Add(
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
        if (draft.Press.Transfer == draft.Usual.Transfer)
            draft.CannotTell("deposit and opacity of the white apart: lightness shows their product");
    }
}
