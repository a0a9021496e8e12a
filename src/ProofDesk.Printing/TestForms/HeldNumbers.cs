using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>Smallest dots and lines held, from the ladder and the pale end of the wedge.</summary>
internal static class HeldNumbers
{
    public static void Held(PressDraft draft, IReadOnlyList<PressReadings> forms)
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
                // A step has hundreds of dots, a thin line is one or two film pixels wide: it is asked when no step was read.
                var step = block.FirstStepHeldPercent is { } s ? held.FromStep(s) : null;
                var found = step ?? (block.ThinnestLineUm is { } line ? held.FromLine(line) : null);
                if (found is { } scale)
                {
                    scales.Add(scale);
                    by.Add(block.By);
                }
            }
        }
        if (scales.Count == 0)
        {
            draft.CannotTell(
                "lost dots: neither a thinnest line nor a first step held was read that the model can print"
            );
            return;
        }
        var value = Math.Exp(scales.Average(Math.Log));
        draft.Press = draft.Press with { HeldFeatureScale = value };
        draft.Add(
            nameof(PressSettings.HeldFeatureScale),
            "smallest dots and lines held, relative to the mesh's w to 2 d + w",
            draft.Usual.HeldFeatureScale,
            value,
            "x",
            by,
            PressDraft.Deviation(scales),
            $"first steps held, else thinnest lines, {PressDraft.Count(scales.Count, "reading")}"
        );
    }
}
