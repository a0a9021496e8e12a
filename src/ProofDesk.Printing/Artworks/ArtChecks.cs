using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Artworks;

/// <summary>What is measured in sized art and said about it.</summary>
internal static class ArtChecks
{
    /// <summary>Screen print needs this many pixels per inch at size (common practice; 200-300 is comfortable).</summary>
    private const double NeededDpi = 150;

    /// <summary>An island smaller than this in both directions is a speck.</summary>
    private const double SpeckMm = 0.5;

    public static Finding NothingToPrint(Artwork artwork, BackgroundChoice choice) =>
        new(
            "nothing-to-print",
            FindingWeight.Refusal,
            Text(
                $"the art has no inked pixel: all {artwork.Pixels.Width} x {artwork.Pixels.Height} px are transparent{(choice == BackgroundChoice.Drop ? " once the background is dropped" : "")}"
            ),
            choice == BackgroundChoice.Drop
                ? "print the background, or supply art that differs from it"
                : "supply art with something on it"
        );

    public static Finding OpaqueBackground(Background background, bool plain) =>
        new(
            "opaque-background",
            FindingWeight.Warning,
            Text(
                $"the art has no transparency: its whole rectangle would be printed; {100 * background.BorderShare:0} % of its border is {background.Hex}"
            ),
            plain
                ? $"drop the background {background.Hex} so that the cloth shows, or say that it is to be printed"
                : "say that the background is to be printed, or supply art with a transparent background"
        );

    public static Finding BackgroundNotPlain(Background background) =>
        new(
            "background-not-plain",
            FindingWeight.Warning,
            Text(
                $"the background cannot be dropped: {100 * background.BorderShare:0} % of the border has one colour ({background.Hex}), more than 50 % is needed"
            ),
            "supply art with a transparent background, or print the background",
            Math.Round(100 * background.BorderShare),
            50,
            "%"
        );

    public static Finding DroppedFromLayers(ImmutableArray<ArtLayer> layers) =>
        new(
            "background-dropped-from-layers",
            FindingWeight.Note,
            $"the background is dropped, so {(layers.Length == 1 ? "the layer prints" : $"all {layers.Length} layers print")} only where the picture keeps something",
            "nothing, or hide the background in the drawing program and send that"
        );

    public static IEnumerable<Finding> Extent(Artwork artwork, Island inked, double widthMm)
    {
        var (canvasWidth, canvasHeight) = (artwork.Pixels.Width, artwork.Pixels.Height);
        if (inked.Width == canvasWidth && inked.Height == canvasHeight)
            yield break;
        var mm = widthMm / inked.Width;
        yield return new(
            "cropped",
            FindingWeight.Note,
            Text(
                $"the canvas of {canvasWidth} x {canvasHeight} px is cropped to its inked extent of {inked.Width} x {inked.Height} px, which prints {widthMm:0.#} x {inked.Height * mm:0.#} mm; the whole canvas would be {canvasWidth * mm:0.#} x {canvasHeight * mm:0.#} mm"
            ),
            Text($"nothing, if the drawing itself is to be {widthMm:0.#} mm wide"),
            Math.Round(inked.Height * mm, 1),
            null,
            "mm"
        );
    }

    public static IEnumerable<Finding> Pixels(int inkedWidth, double widthMm)
    {
        var dpi = inkedWidth / widthMm * 25.4;
        if (dpi >= NeededDpi)
            yield break;
        yield return new(
            "too-few-pixels",
            FindingWeight.Warning,
            Text($"artwork is {dpi:0} dpi at {widthMm:0.#} mm wide, screen print needs {NeededDpi:0}"),
            Text(
                $"supply at least {Math.Ceiling(widthMm / 25.4 * NeededDpi):0} px, or place it {Math.Floor(inkedWidth / NeededDpi * 25.4):0} mm wide"
            ),
            Math.Round(dpi),
            NeededDpi,
            "dpi"
        );
    }

    public static IEnumerable<Finding> Drawing(RgbaRaster pixels, double pixelsPerMm)
    {
        var where = new SpotGrid(pixels.Width, pixels.Height, pixelsPerMm);
        var (soft, inked) = SoftPixels(pixels, where);
        if (soft > 0.005 * inked)
            yield return new(
                "semi-transparent",
                FindingWeight.Note,
                Text($"{100.0 * soft / inked:0.0} % of the art is semi-transparent: it prints as halftone dots"),
                "nothing, if a soft fade is wanted; otherwise give the art a hard edge",
                Math.Round(100.0 * soft / inked, 1),
                0.5,
                "%"
            )
            {
                Spot = where.Densest(),
            };
        var (largest, most) = (SpeckMm * pixelsPerMm, 0);
        var specks = new SpotGrid(pixels.Width, pixels.Height, pixelsPerMm);
        foreach (var island in Islands.Find(Alpha(pixels), threshold: 6).All)
            if (island.Width < largest && island.Height < largest)
            {
                most++;
                specks.Add(island.Left, island.Top);
            }
        if (most > 0)
            yield return new(
                "specks",
                FindingWeight.Warning,
                Text($"{most} isolated {(most == 1 ? "speck is" : "specks are")} smaller than {SpeckMm} mm"),
                "remove them, or check that they belong to the drawing",
                most,
                0,
                "specks"
            )
            {
                Spot = specks.Densest(),
            };
    }

    /// <summary>Pixels whose alpha, and that of their four neighbours, lies between 5 and 95 %; and all pixels above 5 %.</summary>
    private static (long Soft, long Inked) SoftPixels(RgbaRaster pixels, SpotGrid where)
    {
        long soft = 0,
            inked = 0;
        RowLoop.RunBands(
            pixels.Height,
            256,
            (top, count) =>
            {
                var part = where.Part();
                var (softHere, inkedHere) = SoftPixels(pixels, top, count, part);
                where.Add(part);
                Interlocked.Add(ref soft, softHere);
                Interlocked.Add(ref inked, inkedHere);
            }
        );
        return (soft, inked);
    }

    private static (long Soft, long Inked) SoftPixels(RgbaRaster pixels, int top, int count, SpotGrid where)
    {
        long soft = 0,
            inked = 0;
        for (var y = top; y < top + count; y++)
        {
            var row = pixels.Row(y);
            var above = pixels.Row(Math.Max(0, y - 1));
            var below = pixels.Row(Math.Min(pixels.Height - 1, y + 1));
            for (var x = 3; x < row.Length; x += 4)
            {
                if (row[x] <= 3277)
                    continue;
                inked++;
                if (
                    IsSoft(row[x])
                    && IsSoft(above[x])
                    && IsSoft(below[x])
                    && IsSoft(row[Math.Max(3, x - 4)])
                    && IsSoft(row[Math.Min(row.Length - 1, x + 4)])
                )
                {
                    soft++;
                    where.Add(x / 4, y);
                }
            }
        }
        return (soft, inked);
    }

    private static bool IsSoft(ushort alpha) => alpha is > 3277 and < 62258;

    private static BytePlane Alpha(RgbaRaster pixels)
    {
        var plane = new BytePlane(pixels.Width, pixels.Height);
        RowLoop.Run(
            pixels.Height,
            pixels.Width,
            y =>
            {
                var row = pixels.Row(y);
                var alpha = plane.Row(y);
                for (var x = 0; x < alpha.Length; x++)
                    alpha[x] = (byte)(row[4 * x + 3] >> 8);
            }
        );
        return plane;
    }

    internal static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
