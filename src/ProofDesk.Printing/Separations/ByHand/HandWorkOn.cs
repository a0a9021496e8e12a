using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>
/// A separation with the hand work done on its films. Everything after it, dots, press, ink list, files, sees only the changed
/// plates.
/// </summary>
public static class HandWorkOn
{
    /// <summary>
    /// Plates that are not named stay the very same; what was asked and cannot be done is a finding, of weight
    /// <see cref="FindingWeight.Refusal"/> where the job would not be what was asked for.
    /// </summary>
    public static Separation Apply(Separation separation, HandWork work, SpotSettings settings)
    {
        if (work.IsNone || separation.Findings.Any(f => f.Weight == FindingWeight.Refusal))
            return separation;
        var plates = separation.Plates.ToArray();
        var grounds = separation.Grounds;
        var said = new List<Finding>();
        var changed = new List<int>();
        foreach (var edit in work.Plates.Where(p => !p.IsUnchanged))
        {
            var at = Array.FindIndex(
                plates,
                p => string.Equals(p.Name, edit.Plate, StringComparison.OrdinalIgnoreCase)
            );
            if (at < 0)
            {
                said.Add(HandWorkRefusals.NoPlate(edit, separation));
                continue;
            }
            var refusals = HandWorkRefusals.Of(edit, plates[at]).ToArray();
            said.AddRange(refusals);
            if (refusals.Length > 0)
                continue;
            var result = ChangedPlate.Of(plates[at], edit, at, settings.WeakTones, separation.PixelsPerMm);
            said.AddRange(HandWorkChecks.Of(result, edit, separation));
            if (result.Words.IsEmpty)
                continue;
            plates[at] = result.Plate;
            changed.Add(at);
            grounds = [.. grounds.Select(g => Runs(g, at, edit))];
        }
        said.AddRange(changed.SelectMany(at => HandWorkChecks.Beats(plates, at)));
        return separation with
        {
            Plates = [.. plates],
            Grounds = grounds,
            Findings = [.. separation.Findings.Where(f => !HandWorkChecks.IsStale(f, plates)), .. said],
        };
    }

    /// <summary>Strokes of every run of the plate, the flash after its last.</summary>
    private static GroundPlan Runs(GroundPlan ground, int plate, PlateEdit edit)
    {
        if (edit.Strokes is null && edit.FlashAfter is null)
            return ground;
        var last = ground.Runs.Select((run, i) => (run, i)).LastOrDefault(x => x.run.Plate == plate).i;
        return ground with
        {
            Runs =
            [
                .. ground.Runs.Select(
                    (run, i) =>
                        run.Plate != plate
                            ? run
                            : run with
                            {
                                Strokes = edit.Strokes ?? run.Strokes,
                                FlashAfter = i == last ? edit.FlashAfter ?? run.FlashAfter : run.FlashAfter,
                            }
                ),
            ],
        };
    }
}
