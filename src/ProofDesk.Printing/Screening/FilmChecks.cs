using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Separations;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// What films and screens will make of the plates: moire, ruling and mesh, steps of tone, dots too small to hold, base too
/// thin to hold. Plates that share mesh and screen share a finding.
/// </summary>
public static class FilmChecks
{
    /// <summary>Threads to a line: below the first a dot falls through the mesh, from the second on all is usual (weavers' advice, [PHYSICS] 1.13).</summary>
    public const double LeastThreads = 2.5;
    public const double UsualThreads = 3.75;

    /// <summary>8-bit art has so many tones.</summary>
    public const int WantedLevels = 256;

    /// <summary>
    /// From this share of a film's inked area on small dots are said. The limit of each dot, 2 d + w, is common practice. The share
    /// is ours: an even fade from nothing to full has 4 to 13 % of its area below the limit on meshes for halftones at 55 lpi, and
    /// 19 % on 61-64 ([PHYSICS] 1.13), so every halftone film has some; from a fifth on it is the picture, not the end of a fade.
    /// </summary>
    private const double ManySmallDotsPercent = 20;

    public static FilmReport Of(Separation separation, OutputDevice device, ScreenLayout layout, WeakTones weak)
    {
        var plates = separation.Plates.Select(plate => Measure(plate, separation.PixelsPerMm, device, weak)).ToArray();
        var all = separation.Plates.Zip(plates, (plate, check) => new Toned(plate, check)).ToArray();
        var toned = all.Where(t => t.Check.GreyLevels is not null)
            .GroupBy(t => (t.Plate.Mesh, t.Plate.Screen))
            .Select(group => group.ToArray())
            .ToArray();
        return new(
            [.. plates],
            [
                .. FilmFit.Of(separation, device, layout),
                .. toned.SelectMany(group => Screens(group, device)),
                .. SmallDots(all, device, weak),
                .. separation.Plates.SelectMany(plate => ThinBase(plate, separation.PixelsPerMm)),
            ]
        );
    }

    private sealed record Toned(Plate Plate, PlateCheck Check);

    private static PlateCheck Measure(Plate plate, double pixelsPerMm, OutputDevice device, WeakTones weak)
    {
        var (mesh, screen) = (plate.Mesh, plate.Screen);
        var thin = ThinStrips(plate, pixelsPerMm);
        var check = new PlateCheck { ThinBaseMm = thin?.LengthMm, ThinBaseCm2 = thin?.AreaMm2 / 100 };
        var tones = PlateTones.Of(plate);
        if (mesh.IsNone || screen.IsStochastic || !tones.HasTones || !FilmFit.IsDrawn(screen, device))
            return check;
        var (lpi, angle) =
            device.HandOver == HandOver.DotsOurs
                ? ThresholdArray.TrueRuling(screen, device.XDpi, device.YDpi)
                : (screen.LinesPerInch, screen.AngleDegrees);
        var safe = Math.Max(mesh.SafeFeatureUm, device.LeastDotUm);
        return check with
        {
            ThreadsPerLine = mesh.ThreadsPerInch / screen.LinesPerInch,
            BeatMm = MeshBeat.PeriodMm(mesh, lpi, angle),
            GreyLevels = ThresholdArray.Tones(screen.LinesPerInch, device.XDpi, device.YDpi),
            SafeDotUm = safe,
            SmallDotPercent = tones.SharePercent(Math.PI / 4 * Math.Pow(safe * screen.LinesPerInch / 25400, 2)),
            WeakTones = weak,
        };
    }

    private static IEnumerable<Finding> Screens(Toned[] group, OutputDevice device)
    {
        var (mesh, screen, check) = (group[0].Plate.Mesh, group[0].Plate.Screen, group[0].Check);
        var (lpi, names) = (screen.LinesPerInch, Names(group));
        var threads = check.ThreadsPerLine!.Value;
        if (threads < UsualThreads - 0.005)
            yield return new(
                threads < LeastThreads ? "lpi-too-high-for-mesh" : "lpi-high-for-mesh",
                threads < LeastThreads ? FindingWeight.Warning : FindingWeight.Note,
                Text(
                    $"{names}: {lpi:0.#} lpi on the {mesh.Label} mesh is {threads:0.0} threads a line; {LeastThreads:0.0} is the least, {UsualThreads:0.00} to 5 are usual"
                ),
                Text($"at most {Math.Floor(mesh.ThreadsPerInch / UsualThreads):0} lpi on this mesh{Finer(lpi, mesh)}"),
                Math.Round(threads, 1),
                threads < LeastThreads ? LeastThreads : UsualThreads,
                "threads a line"
            );
        if (check.BeatMm > MeshBeat.SeenMm)
        {
            var quiet = MeshBeat.QuietAngle(mesh, lpi, screen.AngleDegrees);
            yield return new(
                "moire",
                FindingWeight.Warning,
                Text(
                    $"{names}: dots of {lpi:0.#} lpi at {screen.AngleDegrees:0.#} degrees beat with the threads of the {mesh.Label} mesh every {check.BeatMm:0.0} mm; above {MeshBeat.SeenMm:0} mm one sees bands"
                ),
                Text(
                    $"turn the screen to {quiet.AngleDegrees:0.#} degrees, where the longest beat is {quiet.PeriodMm:0.0} mm, or change ruling or mesh"
                ),
                Math.Round(check.BeatMm.Value, 2),
                MeshBeat.SeenMm,
                "mm"
            );
        }
        if (check.GreyLevels < WantedLevels)
            yield return new(
                "few-grey-levels",
                FindingWeight.Warning,
                Text(
                    $"{names}: {lpi:0.#} lpi at {Dpi(device)} dpi shows {check.GreyLevels} tones, art has {WantedLevels}: soft fades may step"
                ),
                Text(
                    $"{Math.Floor(Math.Sqrt(device.OwnXDpi * device.OwnYDpi / (WantedLevels - 1))):0} lpi or less, or a device of {10 * Math.Ceiling(lpi * Math.Sqrt(WantedLevels - 1) / 10):0} dpi or more"
                ),
                check.GreyLevels,
                WantedLevels,
                "tones"
            );
    }

    /// <summary>One finding for all films, the worst first: each names its share and its limit.</summary>
    private static IEnumerable<Finding> SmallDots(IEnumerable<Toned> plates, OutputDevice device, WeakTones weak)
    {
        Toned[] weakest =
        [
            .. plates
                .Where(p => p.Check.SmallDotPercent >= ManySmallDotsPercent)
                .OrderByDescending(p => p.Check.SmallDotPercent),
        ];
        if (weakest.Length == 0)
            yield break;
        var films = weakest.Length == 1 ? "1 film prints" : Text($"{weakest.Length} films print");
        yield return new(
            "small-dots",
            FindingWeight.Warning,
            Text(
                $"{films} {ManySmallDotsPercent:0} % of the inked area or more in dots too small to be sure of; weak tones are {(weak == WeakTones.Hold ? "held" : "cut")}: {string.Join(", ", weakest.Select(p => SmallDotsOf(p, device)))}"
            ),
            weak == WeakTones.Hold
                ? "look for these tones in the proof; a coarser ruling or a finer mesh holds more of them"
                : "look for these tones in the proof; a coarser ruling or a finer mesh holds more of them, and the smallest dot can be held instead of cut",
            Math.Round(weakest[0].Check.SmallDotPercent!.Value, 1),
            ManySmallDotsPercent,
            "%"
        );
    }

    /// <summary>"Highlight white" 98.3 % under 117 um (5.1 % at 55 lpi, 120-34 mesh).</summary>
    private static string SmallDotsOf(Toned film, OutputDevice device)
    {
        var (plate, safe) = (film.Plate, film.Check.SafeDotUm!.Value);
        var least = 100 * Math.PI / 4 * Math.Pow(safe * plate.Screen.LinesPerInch / 25400, 2);
        var holds = safe <= plate.Mesh.SafeFeatureUm ? $"{plate.Mesh.Label} mesh" : device.Name;
        return Text(
            $"\"{plate.Name}\" {film.Check.SmallDotPercent:0.0} % under {safe:0} um ({least:0.0} % at {plate.Screen.LinesPerInch:0.#} lpi, {holds})"
        );
    }

    private static IEnumerable<Finding> ThinBase(Plate plate, double pixelsPerMm)
    {
        if (ThinStrips(plate, pixelsPerMm) is not { } thin)
            yield break;
        yield return new(
            "base-strips-too-thin",
            FindingWeight.Warning,
            Text(
                $"{thin.LengthMm:0} mm of \"{plate.Name}\" ({thin.AreaMm2 / 100:0.00} cm2) are strips thinner than {Choke.LeastStripMm:0.00} mm, the thinnest {thin.ThinnestMm:0.00} mm at {thin.XMm:0} mm from the left and {thin.YMm:0} mm from the top: the mesh may not hold them, and the colour there lies on bare cloth"
            ),
            "thicken the strokes, place the print larger, or print those colours without a base",
            Math.Round(thin.ThinnestMm, 2),
            Choke.LeastStripMm,
            "mm"
        );
    }

    private static ThinStrokes? ThinStrips(Plate plate, double pixelsPerMm) =>
        // Of painted art the shape is what its letters leave; what is drawn are the letters.
        plate is { Mesh.IsNone: false, Purpose.IsUnderColours: true }
        && (plate.Solid ?? plate.Shape) is { } shape
            ? ThinStrokes.Find(shape, pixelsPerMm, Choke.LeastStripMm)
            : null;

    private static string Names(Toned[] group) => string.Join(", ", group.Select(t => $"\"{t.Plate.Name}\""));

    private static string Finer(double lpi, Mesh mesh) =>
        Meshes.Default.FirstOrDefault(m => m.ThreadsPerCm > mesh.ThreadsPerCm && m.ThreadsPerInch / lpi >= UsualThreads)
            is { } finer
            ? $", or the {finer.Label} mesh"
            : "";

    internal static string Dpi(OutputDevice device) =>
        device.OwnXDpi == device.OwnYDpi
            ? Text($"{device.OwnXDpi:0.#}")
            : Text($"{device.OwnXDpi:0.#} x {device.OwnYDpi:0.#}");
}
