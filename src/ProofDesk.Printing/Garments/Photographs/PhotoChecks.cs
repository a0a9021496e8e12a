using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Garments.Photographs;

/// <summary>Can a print be laid into this photograph, and how far is it to be believed. Limits are common sense, not a standard.</summary>
internal static class PhotoChecks
{
    public const double LeastTapeShare = 0.15;
    public const double LeastPixelsPerMm = 0.8;
    public const double WarnApartPercent = 2;
    public const double MostApartPercent = 8;
    public const double LeastAreaMm = 100;
    public const double LeastClothPercent = 50;
    public const double MedianCodeAtLeast = 12;
    public const double MostBurntPercent = 10;

    // From this code on a channel is burnt out.
    private const int Burnt = 253;

    public static ImmutableArray<Finding> OfMarks(PhotoMarks marks, int width, int height) =>
        [.. Marks(marks, width, height)];

    private static IEnumerable<Finding> Marks(PhotoMarks marks, int width, int height)
    {
        var longest = Math.Max(width, height);
        var measurable = true;
        foreach (var (tape, name) in new[] { (marks.Tape, "the tape"), (marks.Check, "the second tape") })
        {
            if (tape is null)
                continue;
            if (tape.Mm is < 20 or > 3000 || !double.IsFinite(tape.Mm))
            {
                measurable = false;
                yield return Refuse(
                    "photo-tape",
                    $"{name} is {tape.Mm:0.#} mm long, 20 to 3000 can be",
                    "type the millimetres between its two points"
                );
            }
            else if (tape.Pixels < LeastTapeShare * longest)
            {
                measurable = false;
                yield return Refuse(
                    "photo-tape",
                    $"{name} is {tape.Pixels:0} px long, at least {LeastTapeShare * longest:0} are needed for a scale that a pixel does not change by a percent",
                    "lay it along the whole chest or the whole length"
                );
            }
        }
        if (marks.Seam.To(marks.Down) < 0.1 * longest)
        {
            measurable = false;
            yield return Refuse(
                "photo-centre-line",
                $"the centre line is {marks.Seam.To(marks.Down):0} px long, at least {0.1 * longest:0} are needed for its direction",
                "set its lower point near the hem"
            );
        }
        if (marks.Area.Length < 3 || Math.Abs(PolygonArea.Of([.. marks.Area.Select(p => (p.X, p.Y))])) < 1)
        {
            measurable = false;
            yield return Refuse(
                "photo-area",
                $"the area has {marks.Area.Length} corners, at least 3 that are not on one line are needed",
                "mark the garment, or the part of it that is to be printed"
            );
        }
        if (!measurable)
            yield break;
        var scale = PhotoScale.Of(marks);
        if (scale.PixelsPerMm < LeastPixelsPerMm)
            yield return Refuse(
                "photo-too-small",
                $"the photograph has {scale.PixelsPerMm:0.##} pixels a mm, at least {LeastPixelsPerMm} are needed",
                "photograph it so that it fills the picture, or send the picture as large as the camera made it",
                scale.PixelsPerMm,
                LeastPixelsPerMm,
                "px/mm"
            );
        if (scale.DisagreementPercent is { } apart && apart > WarnApartPercent)
            yield return new(
                "photo-tapes-disagree",
                apart > MostApartPercent ? FindingWeight.Refusal : FindingWeight.Warning,
                Text(
                    $"the two tapes disagree by {apart:0.0} %, {MostApartPercent:0} is the most: the camera looked at the garment from the side, or one tape is wrong; perspective is not corrected"
                ),
                "check both lengths, then photograph again from straight above or straight in front",
                Math.Round(apart, 1),
                MostApartPercent,
                "%"
            );
        var mm = marks.Area.Select(scale.ToMm).ToArray();
        var (wide, high) = (mm.Max(p => p.X) - mm.Min(p => p.X), mm.Max(p => p.Y) - mm.Min(p => p.Y));
        if (Math.Min(wide, high) < LeastAreaMm)
            yield return Refuse(
                "photo-area",
                $"the marked area is {wide:0} x {high:0} mm, at least {LeastAreaMm:0} mm each way are needed to tell folds from the lamp",
                "mark the whole garment, not only the place of the print",
                Math.Min(wide, high),
                LeastAreaMm,
                "mm"
            );
    }

    /// <summary>What the pixels say.</summary>
    public static IEnumerable<Finding> OfCloth(RgbPicture photo, PhotoMarks marks, PhotoReading reading)
    {
        var area = PhotoMask.Area(photo.Width, photo.Height, marks);
        var (median, burnt) = Codes(photo, area);
        if (median < MedianCodeAtLeast)
            yield return Refuse(
                "photo-too-dark",
                $"half of the marked area is darker than {median:0} of 255, {MedianCodeAtLeast:0} is needed: its folds cannot be told from noise",
                "photograph it with more light, or with the camera set one or two stops brighter",
                median,
                MedianCodeAtLeast
            );
        if (burnt > MostBurntPercent)
            yield return Refuse(
                "photo-burnt-out",
                $"{burnt:0} % of the marked area is burnt out, {MostBurntPercent:0} % is the most: no fold is left in it",
                "photograph it with the camera set one stop darker, without flash",
                burnt,
                MostBurntPercent,
                "%"
            );
        var alike = AlikePercent(photo, area, reading);
        if (alike < LeastClothPercent && median >= MedianCodeAtLeast)
            yield return Refuse(
                "photo-no-plain-cloth",
                $"only {alike:0} % of the marked area has one colour, {LeastClothPercent:0} % is needed: no plain garment is found there",
                "mark the garment only, and take one without a print or pattern",
                alike,
                LeastClothPercent,
                "%"
            );
        if (reading.Light.ClampedShare > 0.01)
            yield return new(
                "photo-light-beyond",
                FindingWeight.Note,
                Text(
                    $"{100 * reading.Light.ClampedShare:0.#} % of the cloth is darker than {PhotoLight.LeastLight} or brighter than {PhotoLight.MostLight} of its ground; a print there gets no more than that"
                ),
                "softer light from more than one side shows the print better"
            );
    }

    private static (double Median, double BurntPercent) Codes(RgbPicture photo, BytePlane area)
    {
        var counts = new long[256];
        long all = 0,
            burnt = 0;
        for (var i = 0; i < area.Pixels.Length; i++)
        {
            if (area.Pixels[i] < 128)
                continue;
            var (r, g, b) = (photo.Pixels[3 * i], photo.Pixels[3 * i + 1], photo.Pixels[3 * i + 2]);
            // Rounded whole weights of the same row as the luminance.
            counts[(54 * r + 183 * g + 19 * b) >> 8]++;
            all++;
            if (Math.Max(r, Math.Max(g, b)) >= Burnt)
                burnt++;
        }
        if (all == 0)
            return (0, 0);
        long below = 0;
        var code = 0;
        while (code < 255 && (below += counts[code]) * 2 < all)
            code++;
        return (code, 100.0 * burnt / all);
    }

    private static double AlikePercent(RgbPicture photo, BytePlane area, PhotoReading reading)
    {
        var grid = PhotoGrid.Of(photo, area, reading.Scale.PixelsPerMm);
        var (r, g, b, w) = (
            grid.Blurred(grid.Red, PhotoLight.ThreadMm),
            grid.Blurred(grid.Green, PhotoLight.ThreadMm),
            grid.Blurred(grid.Blue, PhotoLight.ThreadMm),
            grid.Blurred(grid.Weight, PhotoLight.ThreadMm)
        );
        var (all, alike) = (0, 0);
        for (var i = 0; i < w.Length; i++)
        {
            if (grid.Weight[i] < 0.99f)
                continue;
            all++;
            if (
                PhotoMask.Distance(new LinearRgb(r[i] / w[i], g[i] / w[i], b[i] / w[i]), reading.Light.Ground)
                <= PhotoMask.UsualTolerance
            )
                alike++;
        }
        return all == 0 ? 0 : 100.0 * alike / all;
    }

    private static Finding Refuse(
        string code,
        FormattableString what,
        string next,
        double? measured = null,
        double? limit = null,
        string? unit = null
    ) => new(code, FindingWeight.Refusal, Text(what), next, measured is { } m ? Math.Round(m, 2) : null, limit, unit);

    private static string Text(FormattableString text) => PlacementChecks.Text(text);
}
