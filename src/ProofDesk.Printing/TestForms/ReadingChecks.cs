using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>What is wrong with readings, all of it at once: the field, the number, what is possible, what to do.</summary>
public static class ReadingChecks
{
    /// <summary>The scale, and one whole pitch more: beyond that the set-up is to be mended, not measured.</summary>
    private const double MostVernierMm =
        TestFormLayout.VernierReach * TestFormLayout.VernierStepMm + TestFormLayout.MainPitch;

    public static ImmutableArray<Finding> Of(PressReadings readings)
    {
        var found = ImmutableArray.CreateBuilder<Finding>();
        var form = readings.Form;
        var inks = form.Inks.Select(i => i.Id).ToList();
        for (var i = 0; i < readings.Blocks.Length; i++)
        {
            var (b, at) = (readings.Blocks[i], $"blocks[{i}]");
            var plate = inks.IndexOf(b.Ink);
            if (!form.Blocks.Contains((plate, b.Under)))
                Refuse(
                    $"{at}: the form has no block of '{b.Ink}' on {Word(b.Under)}",
                    $"its blocks are {string.Join(", ", form.Blocks.Select(k => $"{inks[k.Plate]} on {Word(k.Under)}"))}"
                );
            Within(
                $"{at}.growthUm",
                b.GrowthUm,
                0,
                TaperGap.MostUm,
                "um",
                "read the scale beside the taper where it is half open, half closed"
            );
            OneOf(
                $"{at}.firstStepHeldPercent",
                b.FirstStepHeldPercent,
                TestFormLayout.StepsPercent,
                "%",
                "steps of the wedge"
            );
            OneOf(
                $"{at}.lastStepOpenPercent",
                b.LastStepOpenPercent,
                TestFormLayout.StepsPercent,
                "%",
                "steps of the wedge"
            );
            OneOf($"{at}.thinnestLineUm", b.ThinnestLineUm, TestFormLayout.LinesUm, "um", "lines of the ladder");
            OneOf($"{at}.thinnestGapUm", b.ThinnestGapUm, TestFormLayout.LinesUm, "um", "gaps of the ladder");
            if (b.FirstStepHeldPercent > b.LastStepOpenPercent)
                Refuse(
                    $"{at}: the first step held is {b.FirstStepHeldPercent} %, the last one open {b.LastStepOpenPercent} %; the first cannot be the darker one",
                    "exchange the two if they were swapped"
                );
        }
        for (var i = 0; i < readings.Register.Length; i++)
        {
            var (r, at) = (readings.Register[i], $"register[{i}]");
            if (!form.RegisteredPlates.Contains(inks.IndexOf(r.Ink)))
                Refuse(
                    $"{at}: no vernier on this form belongs to '{r.Ink}'",
                    $"verniers read {string.Join(", ", form.RegisteredPlates.Select(p => inks[p]))} against {inks[form.ReferencePlate]}"
                );
            Within(
                $"{at}.xMm",
                r.XMm,
                -MostVernierMm,
                MostVernierMm,
                "mm",
                "the label is in hundredths of a millimetre: 25 is 0.25 mm"
            );
            Within(
                $"{at}.yMm",
                r.YMm,
                -MostVernierMm,
                MostVernierMm,
                "mm",
                "the label is in hundredths of a millimetre: 25 is 0.25 mm"
            );
        }
        Lightness(readings, Refuse);
        for (var i = 0; i < readings.Weighed.Length; i++)
        {
            if (!inks.Contains(readings.Weighed[i].Ink))
                Refuse(
                    $"weighed[{i}]: '{readings.Weighed[i].Ink}' is not on the form",
                    $"it has {string.Join(", ", inks)}"
                );
            Within(
                $"weighed[{i}].gramsPerM2",
                readings.Weighed[i].GramsPerM2,
                1,
                300,
                "g/m2",
                "grams on the shirt over the printed area in square metres"
            );
        }
        return found.ToImmutable();

        void Refuse(string message, string next) =>
            found.Add(new("reading-impossible", FindingWeight.Refusal, message, next));

        void Within(string field, double? value, double least, double most, string unit, string next)
        {
            if (value is { } v && !(v >= least - 1e-9 && v <= most + 1e-9))
                found.Add(
                    new(
                        "reading-out-of-range",
                        FindingWeight.Refusal,
                        FormattableString.Invariant(
                            $"{field} is {v:0.###} {unit}; {least:0.###} to {most:0.###} {unit} can be read"
                        ),
                        next,
                        v,
                        v < least ? least : most,
                        unit
                    )
                );
        }

        void OneOf(string field, double? value, ImmutableArray<int> steps, string unit, string what)
        {
            if (value is { } v && !steps.Any(s => Math.Abs(s - v) < 1e-6))
                found.Add(
                    new(
                        "reading-not-on-form",
                        FindingWeight.Refusal,
                        FormattableString.Invariant($"{field} is {v:0.###} {unit}, which is not on the form"),
                        $"the {what} are {string.Join(", ", steps)} {unit}",
                        v,
                        null,
                        unit
                    )
                );
        }
    }

    private static void Lightness(PressReadings readings, Action<string, string> refuse)
    {
        var cloth = CieLab
            .FromXyz(Tristimulus.Of(Brightener.Radiance(readings.Ground.Colour), ViewingLight.D50), ViewingLight.D50)
            .L;
        for (var i = 0; i < readings.Whites.Length; i++)
        {
            var white = readings.Whites[i];
            if (readings.Form.Cloth == FormCloth.Pale)
                refuse(
                    $"whites[{i}]: white does not show on a pale cloth",
                    "print the form for dark cloth and read it there"
                );
            else if (!(white.Lightness > cloth && white.Lightness <= 100))
                refuse(
                    FormattableString.Invariant(
                        $"whites[{i}].lightness is {white.Lightness:0.#}; between that of the cloth, {cloth:0.#}, and 100 is possible"
                    ),
                    "type L*, not Y and not a density"
                );
        }
    }

    private static string Word(FormUnder under) => under == FormUnder.Base ? "base" : "cloth";
}
