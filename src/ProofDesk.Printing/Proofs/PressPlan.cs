using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Proofs;

/// <summary>The press a shop has: what its heads can hold.</summary>
/// <param name="Flashes">Flash units.</param>
/// <param name="LargestWidthMm">Largest image.</param>
public sealed record PressEquipment(
    string Name,
    PressClass Class,
    int Heads,
    int Flashes,
    double LargestWidthMm,
    double LargestHeightMm
)
{
    /// <summary>The press the settings describe; two flash units on an automatic, one that swings in on a manual (common practice).</summary>
    public static PressEquipment Of(SpotSettings settings) =>
        new(
            settings.PressClass == PressClass.Automatic ? "automatic press" : "manual press",
            settings.PressClass,
            settings.HeadCount,
            settings.Flashes ?? (settings.PressClass == PressClass.Automatic ? 2 : 1),
            settings.LargestWidthMm,
            settings.LargestHeightMm
        );
}

/// <summary>What a head of the press is there for.</summary>
public enum HeadTask
{
    Print,
    Flash,

    /// <summary>Left empty so that a flashed print cools before the next ink.</summary>
    Cool,
    Free,
}

/// <summary>One head, in the order a shirt passes.</summary>
/// <param name="Screen">Number of the screen (1 = first plate), or null.</param>
/// <param name="Text">What the operator reads.</param>
public sealed record HeadUse(int Head, HeadTask Task, int? Screen, string Text);

/// <summary>
/// Which head holds what on one ground. Flash and cool-down take heads on an automatic press, so ten heads on dark cloth carry
/// about seven colours; on a manual press the flash swings in and takes none (common practice).
/// </summary>
/// <param name="FreeHeads">Heads left over; negative when so many are missing.</param>
/// <param name="ColoursLeft">Colours that could still be added: heads left, not inks.</param>
/// <param name="Findings">What does not fit.</param>
public sealed record PressPlan(
    PressEquipment Equipment,
    ImmutableArray<HeadUse> Heads,
    int FreeHeads,
    int ColoursLeft,
    ImmutableArray<Finding> Findings
)
{
    /// <summary>Null when no screen of the plan runs on a press: jetted, cut and transferred prints have no heads.</summary>
    public static PressPlan? Of(Separation separation, GroundPlan plan, PressEquipment equipment)
    {
        var runs = plan.Runs.Where(r => r.Runs && !separation.Plates[r.Plate].Mesh.IsNone).ToArray();
        if (runs.Length == 0)
            return null;
        var heads = ImmutableArray.CreateBuilder<HeadUse>();
        var (flashes, cooled) = (0, false);
        for (var i = 0; i < runs.Length; i++)
        {
            var (run, plate) = (runs[i], separation.Plates[runs[i].Plate]);
            Add(HeadTask.Print, run.Plate + 1, Print(run, plate, runs[..i].Any(r => r.Plate == run.Plate)));
            if (!run.FlashAfter || i == runs.Length - 1)
                continue;
            flashes++;
            if (equipment.Class == PressClass.Manual)
            {
                heads[^1] = heads[^1] with { Text = heads[^1].Text + "; then swing the flash in and let it cool" };
                continue;
            }
            Add(
                HeadTask.Flash,
                null,
                "flash until the ink is dry to the touch; time and heat as the ink supplier's sheet says"
            );
            // The last flash is the one colours are printed on; a print-flash-print of white may follow warm.
            if (!cooled && runs[i + 1].Plate != run.Plate)
            {
                Add(HeadTask.Cool, null, "empty: the print cools, or the next screen sticks");
                cooled = true;
            }
        }
        var used = heads.Count;
        for (var head = used; head < equipment.Heads; head++)
            Add(HeadTask.Free, null, "free");
        var free = equipment.Heads - used;
        return new(
            equipment,
            heads.ToImmutable(),
            free,
            Math.Max(0, free),
            [.. Problems(plan, equipment, runs.Length, used, flashes)]
        );

        void Add(HeadTask task, int? screen, string text) => heads.Add(new(heads.Count + 1, task, screen, text));
    }

    private static string Print(ScreenRun run, Plate plate, bool again) =>
        $"{plate.Name}: {run.Ink.Name}, mesh {plate.Mesh.Label}"
        + (run.Strokes > 1 ? $", {run.Strokes} strokes" : "")
        + (again ? ", the same screen once more (or a second one from the same film)" : "");

    private static IEnumerable<Finding> Problems(
        GroundPlan plan,
        PressEquipment equipment,
        int prints,
        int used,
        int flashes
    )
    {
        var cloth = plan.Ground.Colour.Name.ToLowerInvariant();
        if (used > equipment.Heads)
            yield return new(
                "too-few-heads",
                FindingWeight.Warning,
                $"{cloth} needs {used} heads ({prints} prints, the rest flash and cool-down), the press has {equipment.Heads}",
                "use fewer inks, or leave out the second base pass or the highlight white",
                used,
                equipment.Heads,
                "heads"
            );
        // One that swings in can be used after any screen.
        if (equipment.Class == PressClass.Automatic && flashes > equipment.Flashes)
            yield return new(
                "too-few-flashes",
                FindingWeight.Warning,
                $"{cloth} is flashed {flashes} times in one round, the press has {equipment.Flashes} flash {(equipment.Flashes == 1 ? "unit" : "units")}",
                "print the base in one pass, or run the shirts around twice",
                flashes,
                equipment.Flashes,
                "flashes"
            );
    }
}
