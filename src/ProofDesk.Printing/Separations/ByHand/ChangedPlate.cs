using System.Collections.Immutable;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>
/// One plate after its change, in this order: film tones for another screen or mesh are worked out again from the tones the
/// print should show, the wedge changes them, edges move, and a base is cut out of its rectangles.
/// </summary>
/// <param name="Words">What was changed, with the value it was made with; empty when nothing differs from that.</param>
internal sealed record ChangedPlate(Plate Plate, ImmutableArray<string> Words)
{
    /// <param name="index">The plate's place in the print order: stochastic dots of different plates fall independently.</param>
    /// <param name="weak">What the separator did with tones the mesh does not hold.</param>
    public static ChangedPlate Of(Plate made, PlateEdit edit, int index, WeakTones weak, double pixelsPerMm)
    {
        var words = new List<string>();
        var mesh = edit.Mesh is { } label ? Meshes.Parse(label)! : made.Mesh;
        var screen = ScreenOf(made.Screen, edit, mesh, index);
        if (edit.SpreadUm != 0)
            words.Add(Text($"{(edit.SpreadUm < 0 ? "choke" : "spread")} {Math.Abs(edit.SpreadUm):0.##} um"));
        if (mesh != made.Mesh)
            words.Add($"mesh {mesh.Label} ({made.Mesh.Label} made)");
        var other = screen.Dot != made.Screen.Dot;
        if (screen.LinesPerInch != made.Screen.LinesPerInch)
            words.Add(
                Text(
                    $"{Ruling(screen)} ({(screen.IsStochastic == made.Screen.IsStochastic ? Number(made.Screen) : Ruling(made.Screen))} made)"
                )
            );
        if (screen.AngleDegrees != made.Screen.AngleDegrees && !screen.IsStochastic)
            words.Add(Text($"{screen.AngleDegrees:0.##} degrees ({made.Screen.AngleDegrees:0.##} made)"));
        if (other)
            words.Add($"{HandWorkJson.Word(screen.Dot)} dots ({HandWorkJson.Word(made.Screen.Dot)} made)");
        var asked = edit.WeakTones ?? weak;
        if (asked != weak)
            words.Add($"weak tones {HandWorkJson.Word(asked)} ({HandWorkJson.Word(weak)} made)");
        if (edit.Strokes is { } strokes && strokes != made.Strokes)
            words.Add(Text($"{strokes} {(strokes == 1 ? "stroke" : "strokes")} ({made.Strokes} made)"));
        if (edit.FlashAfter is { } flash && flash != made.FlashAfter)
            words.Add(flash ? "flashed after it (not made so)" : "not flashed after it (made so)");

        var plate = made with
        {
            Mesh = mesh,
            Screen = screen,
            Strokes = edit.Strokes ?? made.Strokes,
            FlashAfter = edit.FlashAfter ?? made.FlashAfter,
        };
        // An angle moves dots and leaves their size.
        var resized = mesh != made.Mesh || screen with { AngleDegrees = made.Screen.AngleDegrees } != made.Screen;
        if ((resized || asked != weak) && made.Rule is { } rule)
            plate = plate with { Tone = rule(made.Wanted, screen, mesh, asked) };
        if (!edit.ChangedWedge.IsEmpty)
            plate = FilmWedge.On(plate, edit.Wedge);
        if (edit.SpreadUm != 0)
            plate = MovedEdges.Of(plate, edit.SpreadUm, pixelsPerMm);
        if (!edit.KeepOut.IsDefaultOrEmpty)
        {
            var before = PlateInk.AreaMm2(plate, pixelsPerMm);
            plate = KeptOut.Of(plate, edit.KeepOut, pixelsPerMm);
            var count = edit.KeepOut.Length;
            words.Add(
                Text(
                    $"kept out of {count} {(count == 1 ? "rectangle" : "rectangles")} ({(before - PlateInk.AreaMm2(plate, pixelsPerMm)) / 100:0.00} cm2)"
                )
            );
        }
        // Last, because a film's label may be cut off there.
        if (!edit.ChangedWedge.IsEmpty)
            words.Add(Text($"wedge {string.Join(" ", edit.Wedge.Select(w => Text($"{100 * w:0.##}")))} %"));
        return words.Count == 0
            ? new(made, [])
            : new(plate with { ByHand = string.Join(", ", words), Made = made }, [.. words]);
    }

    private static Screen ScreenOf(Screen made, PlateEdit edit, Mesh mesh, int index)
    {
        var dot = edit.Dot ?? made.Dot;
        if (dot == DotShape.Stochastic)
            return made.IsStochastic && edit.LinesPerInch is null
                ? made
                // Dots as small as the mesh holds every one of them.
                : Screen.Stochastic(edit.LinesPerInch is { } perInch ? 25400 / perInch : mesh.SafeFeatureUm, index);
        return made with
        {
            Dot = dot,
            AngleDegrees = edit.AngleDegrees ?? made.AngleDegrees,
            LinesPerInch =
                edit.LinesPerInch
                ?? (made.IsStochastic ? Screen.UsualLinesPerInch(mesh.ThreadsPerInch) : made.LinesPerInch),
            Variant = 0,
        };
    }

    private static string Ruling(Screen screen) => Number(screen) + (screen.IsStochastic ? " dots per inch" : " lpi");

    private static string Number(Screen screen) => Text($"{screen.LinesPerInch:0.##}");
}
