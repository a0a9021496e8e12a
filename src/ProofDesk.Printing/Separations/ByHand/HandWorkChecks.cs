using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Screening;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>What a change by hand did to a plate, measured on the plate before and after.</summary>
internal static class HandWorkChecks
{
    /// <summary>A choke that takes more than this off the ink of a plate is worth a warning (common sense, no source).</summary>
    private const double MostLostPercent = 20;

    /// <summary>Corners that a change turns into tips count for less than this.</summary>
    private const double NoCornersMm = 2;

    public static IEnumerable<Finding> Of(ChangedPlate changed, PlateEdit edit, Separation separation)
    {
        var (plate, ppm) = (changed.Plate, separation.PixelsPerMm);
        var made = plate.Made ?? plate;
        if (edit.AngleDegrees is not null && plate.Screen.IsStochastic)
            yield return new(
                "by-hand-angle-unused",
                FindingWeight.Note,
                Text(
                    $"\"{plate.Name}\" has stochastic dots: they have no angle, the {edit.AngleDegrees:0.##} degrees given change nothing"
                ),
                "take the angle out, or choose another dot"
            );
        if (changed.Words.IsEmpty)
            yield break;
        var (before, after) = (PlateInk.AreaMm2(made, ppm), PlateInk.AreaMm2(plate, ppm));
        yield return new(
            "by-hand",
            FindingWeight.Note,
            Text(
                $"\"{plate.Name}\" is changed by hand: {plate.ByHand}; its film has {after / 100:0.00} cm2 of ink, {before / 100:0.00} cm2 as made"
            ),
            "nothing, or take the change out to have the film as it was made",
            Math.Round(after / 100, 2),
            null,
            "cm2"
        );
        // Less than the smallest thing anybody would print.
        if (before > 0.05 && after <= 0.05)
        {
            yield return new(
                "by-hand-blank",
                FindingWeight.Warning,
                Text($"nothing is left on the film of \"{plate.Name}\": {before / 100:0.00} cm2 of ink as made"),
                "take the change back, or leave the ink out so that no screen is made for it",
                0,
                null,
                "cm2"
            );
            yield break;
        }
        foreach (var finding in Edges(plate, made, edit, before, after, ppm))
            yield return finding;
        foreach (var finding in Tones(plate, made, edit, ppm))
            yield return finding;
        foreach (var finding in Outside(edit, separation))
            yield return finding;
    }

    private static IEnumerable<Finding> Edges(
        Plate plate,
        Plate made,
        PlateEdit edit,
        double before,
        double after,
        double ppm
    )
    {
        var spreadMm = edit.SpreadUm / 1000;
        // Of painted art the shape is what its letters leave; what is drawn are the letters.
        var drawn = made.Solid ?? made.Shape;
        var lost = 100 * (before - after) / before;
        if (spreadMm < 0 && lost >= MostLostPercent && edit.ChangedWedge.IsEmpty)
            yield return new(
                "by-hand-shaved",
                FindingWeight.Warning,
                Text(
                    $"the choke of {-edit.SpreadUm:0.##} um takes {lost:0} % of the ink off \"{plate.Name}\": {after / 100:0.00} of {before / 100:0.00} cm2 are left"
                ),
                "choke it less",
                Math.Round(lost),
                MostLostPercent,
                "%"
            );
        if (drawn is { } was && spreadMm < 0 && ThinPlaces.Lines(was, -2 * spreadMm, ppm) is { } gone)
            yield return new(
                "by-hand-lines-gone",
                FindingWeight.Warning,
                Text(
                    $"lines of \"{plate.Name}\" thinner than {-2 * spreadMm:0.00} mm are gone: {gone.LengthMm:0} mm of them, the thinnest ({gone.ThinnestMm:0.00} mm) at {gone.XMm:0.0}, {gone.YMm:0.0} mm from the top left"
                ),
                "choke it less, or thicken them in the art",
                Math.Round(gone.ThinnestMm, 2),
                Math.Round(-2 * spreadMm, 2),
                "mm"
            );
        if (drawn is { } open && spreadMm > 0 && ThinPlaces.Gaps(open, 2 * spreadMm, ppm) is { } closed)
            yield return new(
                "by-hand-gaps-closed",
                FindingWeight.Warning,
                Text(
                    $"gaps of \"{plate.Name}\" thinner than {2 * spreadMm:0.00} mm are closed: {closed.LengthMm:0} mm of them, the thinnest ({closed.ThinnestMm:0.00} mm) at {closed.XMm:0.0}, {closed.YMm:0.0} mm from the top left"
                ),
                "spread it less",
                Math.Round(closed.ThinnestMm, 2),
                Math.Round(2 * spreadMm, 2),
                "mm"
            );
        // Strips of a base are looked for on every film.
        var limit = plate.Mesh.SafeFeatureUm / 1000;
        if (
            (plate.Solid ?? plate.Shape) is { } shape
            && !plate.Purpose.IsUnderColours
            && (spreadMm < 0 || !edit.KeepOut.IsDefaultOrEmpty || limit > made.Mesh.SafeFeatureUm / 1000)
            && ThinStrokes.Find(shape, ppm, limit) is { } thin
            && thin.LengthMm > ThinAsMade() + NoCornersMm
        )
            yield return new(
                "by-hand-thin-strips",
                FindingWeight.Warning,
                Text(
                    $"\"{plate.Name}\" is left with {thin.LengthMm:0} mm of strips thinner than the {limit:0.00} mm that hold on a {plate.Mesh.Label} mesh, the thinnest ({thin.ThinnestMm:0.00} mm) at {thin.XMm:0.0}, {thin.YMm:0.0} mm from the top left"
                ),
                plate.Mesh == made.Mesh ? "choke it less, or use a finer mesh" : "use a finer mesh",
                Math.Round(thin.ThinnestMm, 2),
                Math.Round(limit, 2),
                "mm"
            );

        double ThinAsMade() =>
            drawn is { } old && ThinStrokes.Find(old, ppm, made.Mesh.SafeFeatureUm / 1000) is { } strips
                ? strips.LengthMm
                : 0;
    }

    private static IEnumerable<Finding> Tones(Plate plate, Plate made, PlateEdit edit, double ppm)
    {
        if (!edit.ChangedWedge.IsEmpty && edit.Wedge[0] > 0)
        {
            var veil = PlateInk.AreaMm2(made, ppm, (tone, _) => tone == 0);
            if (veil >= 1)
                yield return new(
                    "by-hand-veil",
                    FindingWeight.Warning,
                    Text(
                        $"the wedge of \"{plate.Name}\" begins at {100 * edit.Wedge[0]:0.##} %: {veil / 100:0.00} cm2 inside its outline that had no ink get some"
                    ),
                    "let the wedge begin at 0 %",
                    Math.Round(veil / 100, 2),
                    0,
                    "cm2"
                );
        }
        if (plate.Screen.IsStochastic)
            yield break;
        var held = ToneCompensation.SmallestHeldTone(plate.Mesh, plate.Screen.LinesPerInch);
        var weak = Weak(plate, held);
        if (
            weak >= 1
            && (
                weak > Weak(made, ToneCompensation.SmallestHeldTone(made.Mesh, made.Screen.LinesPerInch)) + 1
                || IsOther(plate, made)
            )
        )
            yield return SeparationChecks.WeakTonesOf(plate, weak, held);

        // Tones that should print, and on film have dots too small to hold, or none.
        double Weak(Plate of, double limit) =>
            PlateInk.AreaMm2(of, ppm, (tone, wanted) => wanted > 0 && tone < Math.Floor(255 * limit));
    }

    private static IEnumerable<Finding> Outside(PlateEdit edit, Separation separation)
    {
        if (edit.KeepOut.IsDefaultOrEmpty)
            yield break;
        for (var i = 0; i < edit.KeepOut.Length; i++)
            if (edit.KeepOut[i].XMm >= separation.WidthMm || edit.KeepOut[i].YMm >= separation.HeightMm)
                yield return new(
                    "by-hand-keep-out-outside",
                    FindingWeight.Warning,
                    Text(
                        $"rectangle {i + 1} of \"{edit.Plate}\" begins at {edit.KeepOut[i].XMm:0.##}, {edit.KeepOut[i].YMm:0.##} mm, outside the print of {separation.WidthMm:0.#} x {separation.HeightMm:0.#} mm"
                    ),
                    "measure from the top left corner of the inked extent"
                );
    }

    /// <summary>The longest beat of a changed plate with another one that has dots.</summary>
    public static IEnumerable<Finding> Beats(Plate[] plates, int at)
    {
        var plate = plates[at];
        if (plate.Made is not { } made || plate.Screen == made.Screen || !PlateInk.HasTone(plate))
            yield break;
        var worst = plates
            .Where((other, i) => i != at && !other.Mesh.IsNone && PlateInk.HasTone(other))
            .Select(other => (Other: other, Period: ScreenBeat.PeriodMm(plate.Screen, other.Screen)))
            .OrderByDescending(b => b.Period)
            .FirstOrDefault();
        if (worst.Period >= MeshBeat.SeenMm)
            yield return new(
                "by-hand-screens-beat",
                FindingWeight.Warning,
                Text(
                    $"the dots of \"{plate.Name}\" ({Says(plate.Screen)}) and \"{worst.Other.Name}\" ({Says(worst.Other.Screen)}) draw a pattern of {worst.Period:0.0} mm on each other, {MeshBeat.SeenMm:0} mm is visible"
                ),
                "give both the same ruling and angle, or turn one by 15 degrees or more",
                Math.Round(worst.Period, 1),
                MeshBeat.SeenMm,
                "mm"
            );
    }

    /// <summary>
    /// What the separator said about lines and dots of a plate held for its own mesh and screen; these are named in quotes.
    /// </summary>
    public static bool IsStale(Finding finding, Plate[] plates) =>
        finding.Code is "thin-lines" or "weak-tones"
        && plates.Any(p =>
            p.Made is { } made
            && IsOther(p, made)
            && finding.Message.Contains($"\"{p.Name}\"", StringComparison.Ordinal)
        );

    private static bool IsOther(Plate plate, Plate made) => plate.Mesh != made.Mesh || plate.Screen != made.Screen;

    private static string Says(Screen screen) =>
        Text($"{screen.LinesPerInch:0.##} lpi, {screen.AngleDegrees:0.##} degrees");
}
