using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Separations;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Screening;

/// <summary>Whether device and frame can take the films at all: width, frame, resolution.</summary>
internal static class FilmFit
{
    /// <summary>Fewer device dots a line draw no dot anybody would print: 17 tones.</summary>
    public const double LeastDotsALine = 4;

    /// <summary>Lines only: what <see cref="ThresholdArray"/> needs.</summary>
    private const double LeastForSolids = 2;
    private const double LeastForStochastic = 0.5;

    public static bool IsDrawn(Screen screen, OutputDevice device) =>
        Math.Min(device.XDpi, device.YDpi) / screen.LinesPerInch
        >= (screen.IsStochastic ? LeastForStochastic : LeastForSolids);

    public static IEnumerable<Finding> Of(Separation separation, OutputDevice device, ScreenLayout layout)
    {
        if (separation.Plates.Length == 0)
            yield break;
        foreach (var coarse in Resolution(separation, device))
            yield return coarse;
        if (separation.Plates.All(p => p.Mesh.IsNone))
        {
            if (!layout.IsOne)
                yield return new(
                    "no-screens-to-share",
                    FindingWeight.Refusal,
                    $"{layout.Words} on a screen are asked for: this method has no screens",
                    "leave the images on a screen out, or choose a screen print"
                );
            yield break;
        }
        if (Width(separation, device, layout) is { } wide)
            yield return wide;
        if (Frame(separation, device.Frame, layout) is { } frame)
            yield return frame;
    }

    private static IEnumerable<Finding> Resolution(Separation separation, OutputDevice device)
    {
        var dpi = Math.Min(device.OwnXDpi, device.OwnYDpi);
        var finest = separation.Plates.Where(p => p.Screen.IsStochastic).Max(p => (double?)p.Screen.LinesPerInch);
        if (finest is { } dots && dpi / dots < LeastForStochastic)
            yield return new(
                "dpi-too-low-for-dots",
                FindingWeight.Refusal,
                Text(
                    $"{device.Name} writes {FilmChecks.Dpi(device)} dpi: scattered dots of {25400 / dots:0} um are {dots:0} to the inch, and {LeastForStochastic * dots:0} dpi are the least that show them"
                ),
                Text($"choose a device of {Math.Ceiling(LeastForStochastic * dots):0} dpi or more"),
                dpi,
                LeastForStochastic * dots,
                "dpi"
            );
        foreach (var group in separation.Plates.GroupBy(p => p.Screen).Where(g => !g.Key.IsStochastic))
        {
            var needed = group.Any(p => PlateTones.Of(p).HasTones) ? LeastDotsALine : LeastForSolids;
            var lpi = group.Key.LinesPerInch;
            if (dpi / lpi < needed)
                yield return new(
                    "dpi-too-low-for-lpi",
                    FindingWeight.Refusal,
                    Text(
                        $"{device.Name} writes {FilmChecks.Dpi(device)} dpi: {dpi / lpi:0.0} of its dots to a line at {lpi:0.#} lpi, {needed:0} are the least"
                    ),
                    Text(
                        $"{Math.Floor(dpi / needed):0} lpi or less, or a device of {Math.Ceiling(lpi * needed):0} dpi or more"
                    ),
                    Math.Round(dpi / lpi, 1),
                    needed,
                    "dots a line"
                );
        }
    }

    private static Finding? Width(Separation separation, OutputDevice device, ScreenLayout layout)
    {
        if (device.LargestWidthMm is not { } most)
            return null;
        var width = FilmSheet.WidthMm(separation.WidthMm, layout, device.Frame);
        if (width <= most + 0.05)
            return null;
        var room = most - 2 * device.Frame.SideMarginMm - (layout.Columns - 1) * layout.GapMm;
        var next =
            width <= device.Frame.LeastWidthMm
                ? Text($"choose a frame template whose films may be {most:0.#} mm wide, or a wider device")
            : layout.Columns > 1
                ? Text(
                    $"put fewer images beside each other, make the print {Math.Floor(room / layout.Columns):0} mm wide or less, or choose a wider device"
                )
            : Text($"make the print {Math.Floor(room):0} mm wide or less, or choose a wider device");
        return new(
            "film-wider-than-device",
            FindingWeight.Refusal,
            Text(
                $"the film is {width:0.0} mm wide with its margins, {device.Name} takes {most:0.0} mm: {width - most:0.0} mm too much"
            ),
            next,
            Math.Round(width, 1),
            most,
            "mm"
        );
    }

    private static Finding? Frame(Separation separation, FrameTemplate frame, ScreenLayout layout)
    {
        var (width, height) = (layout.WidthMm(separation.WidthMm), layout.HeightMm(separation.HeightMm));
        var what = layout.IsOne ? "the print is" : $"{layout.Words} are";
        var smaller = layout.IsOne ? "make the print smaller" : "put fewer images on the screen";
        if (width > frame.InnerWidthMm + 0.05 || height > frame.InnerHeightMm + 0.05)
            return new(
                "larger-than-frame",
                FindingWeight.Refusal,
                Text($"{what} {width:0.0} x {height:0.0} mm, frame \"{frame.Name}\" has {Inner(frame)} mm inside"),
                $"{smaller}, or choose a larger frame"
            );
        var marked = height + 2 * frame.MarkReachMm;
        if (marked <= frame.InnerHeightMm + 0.05 || frame.InnerHeightMm is not { } inside)
            return null;
        return new(
            "marks-outside-frame",
            layout.IsOne ? FindingWeight.Warning : FindingWeight.Refusal,
            Text(
                $"{what} {marked:0.0} mm high with the register marks, frame \"{frame.Name}\" has {inside:0.0} mm inside: {marked - inside:0.0} mm too much"
            ),
            layout.IsOne
                ? "register on the image itself, make the print smaller, or choose a larger frame"
                : $"{smaller}, or choose a larger frame",
            Math.Round(marked, 1),
            inside,
            "mm"
        );
    }

    private static string Inner(FrameTemplate frame) =>
        (frame.InnerWidthMm, frame.InnerHeightMm) switch
        {
            ({ } w, { } h) => Text($"{w:0.#} x {h:0.#}"),
            ({ } w, null) => Text($"{w:0.#}"),
            (null, { } h) => Text($"{h:0.#}"),
            _ => "",
        };
}
