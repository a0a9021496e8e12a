using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.TestForms;

/// <summary>Growth on cloth and on a base: rings of a scan, else the taper, else the last step open.</summary>
internal static class GrowthNumbers
{
    public static void Growth(PressDraft draft, IReadOnlyList<PressReadings> forms, FormUnder under)
    {
        var on = under == FormUnder.Base ? "on a white base" : "on bare cloth";
        var name = under == FormUnder.Base ? nameof(PressSettings.GrowthOnBaseUm) : nameof(PressSettings.GrowthUm);
        var was = under == FormUnder.Base ? draft.Usual.GrowthOnBaseUm : draft.Usual.GrowthUm;
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
            draft.CannotTell($"growth {on}: no block of it was read");
            return;
        }
        // Somebody who reads six sheets misses the place on one now and then.
        var value = by.Any(b => b == ReadBy.Eye) ? PressDraft.Median(read) : read.Average();
        draft.Press =
            under == FormUnder.Base
                ? draft.Press with
                {
                    GrowthOnBaseUm = value,
                }
                : draft.Press with
                {
                    GrowthUm = value,
                };
        draft.Add(
            name,
            $"ink growth at an edge {on}",
            was,
            value,
            "um",
            by,
            PressDraft.Deviation(read),
            $"{from}, {PressDraft.Count(read.Count, "block")}"
        );
        if (read.Count > 1 && PressDraft.Deviation(read) > 8)
            draft.Findings.Add(
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
}
