using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Reviews;

/// <summary>A print as it lies on a garment of one size, mm in the drawing of its side; turned as its place is.</summary>
/// <param name="TapeMm">From the seam to the print's nearer edge, along the place's own upright.</param>
public sealed record DrawnPrint(
    PrintSummary Print,
    GroundSummary Ground,
    double SeamX,
    double SeamY,
    double Degrees,
    double Left,
    double Top,
    double WidthMm,
    double HeightMm,
    double TapeMm,
    bool Up
);

/// <summary>A garment of one size laid flat.</summary>
/// <param name="OffsetMm">How far its own origin lies from the left of the common drawing.</param>
public sealed record DrawnSize(
    string Size,
    double ChestMm,
    double LengthMm,
    double OffsetMm,
    ImmutableArray<string> Pieces,
    ImmutableArray<DrawnPrint> Prints
);

/// <summary>The smallest and the largest size that was ordered of one garment, side by side at one scale.</summary>
public sealed record DrawnPair(
    string Garment,
    string Hex,
    bool Back,
    double TopMm,
    double WidthMm,
    double HeightMm,
    ImmutableArray<DrawnSize> Sizes
)
{
    /// <summary>Letters that can be read when the drawing is as narrow as a phone.</summary>
    public double LetterMm => WidthMm / 30;
}

/// <summary>Draws what an order's sizes do to a print that stays as large as it is: nothing is simulated here, only measured.</summary>
public static class SizesDrawn
{
    private const double GapMm = 90;
    private const double EdgeMm = 40;

    /// <summary>Every so manieth point of an outline: 12 mm apart, which a drawing of a fifth of the size does not show.</summary>
    private const int EveryPoint = 6;

    public static IReadOnlyList<DrawnPair> Of(ReviewPage page)
    {
        var pairs = new List<DrawnPair>();
        foreach (var lines in page.Order.Lines.GroupBy(l => l.GarmentId))
        {
            var ground = page.Garments.Find(lines.First().GarmentId, lines.First().ColourId);
            if (ground?.Garment is not { Shape: { } shape } garment)
                continue;
            var ordered = lines
                .SelectMany(l => l.Counts)
                .Where(c => c.Count > 0)
                .Select(c => garment.Size(c.Size))
                .OfType<GarmentSize>()
                .Distinct()
                .OrderBy(s => s.ChestMm)
                .ToList();
            if (ordered.Count == 0)
                continue;
            GarmentSize[] ends = ordered.Count == 1 ? [ordered[0]] : [ordered[0], ordered[^1]];
            foreach (var side in new[] { GarmentSide.Front, GarmentSide.Back })
            {
                if (Pair(page, garment, shape, ends, side, ground.Id) is { } pair)
                    pairs.Add(pair);
            }
        }
        return pairs;
    }

    private static DrawnPair? Pair(
        ReviewPage page,
        Garment garment,
        GarmentShape shape,
        GarmentSize[] ends,
        GarmentSide side,
        string groundId
    )
    {
        var prints = page.Order.Prints.Where(p => p.Place.Side() == side && !p.Place.IsAllOver()).ToList();
        if (prints.Count == 0 || shape.View(side) is null)
            return null;
        var sizes = ImmutableArray.CreateBuilder<DrawnSize>();
        var (right, top, bottom, hex) = (EdgeMm, 0.0, 0.0, "");
        foreach (var size in ends)
        {
            var panels = shape.Panels(size, side);
            var points = panels.SelectMany(p => p.Outline).ToList();
            var offset = right - points.Min(p => p.X);
            var drawn = prints
                .Select(p => Print(page, p, shape, size, groundId))
                .OfType<DrawnPrint>()
                .ToImmutableArray();
            hex = drawn.FirstOrDefault()?.Ground.Hex ?? hex;
            sizes.Add(
                new(size.Size, size.ChestMm, size.LengthMm, offset, [.. panels.Select(p => PathOf(p.Outline))], drawn)
            );
            right = offset + points.Max(p => p.X) + GapMm;
            top = Math.Min(top, points.Min(p => p.Y));
            bottom = Math.Max(bottom, points.Max(p => p.Y));
        }
        if (sizes.All(s => s.Prints.IsEmpty))
            return null;
        var width = right - GapMm + EdgeMm;
        var room = 3 * width / 30;
        return new(
            garment.Name,
            hex,
            side == GarmentSide.Back,
            top - EdgeMm,
            width,
            bottom - top + EdgeMm + room,
            sizes.ToImmutable()
        );
    }

    private static DrawnPrint? Print(
        ReviewPage page,
        ProofOrderPrint print,
        GarmentShape shape,
        GarmentSize size,
        string groundId
    )
    {
        if (
            shape.Anchor(print.Place) is not { } anchor
            || page.Prints.FirstOrDefault(p => p.Key == print.Key) is not { } summary
        )
            return null;
        var ground = summary.Grounds.FirstOrDefault(g => g.Id == groundId) ?? summary.Grounds[0];
        var (x, y) = anchor.Seam.Of(size);
        // The wearer's left is on the right of a picture of the front, and on the left of one of the back.
        var centre = (anchor.Side == GarmentSide.Front ? 1 : -1) * print.FromCentreMm;
        var top = anchor.Up ? -print.FromSeamMm - summary.HeightMm : print.FromSeamMm;
        return new(
            summary,
            ground,
            x,
            y,
            anchor.DegreesFromUpright,
            centre - summary.WidthMm / 2,
            top,
            summary.WidthMm,
            summary.HeightMm,
            print.FromSeamMm,
            anchor.Up
        );
    }

    private static string PathOf(ImmutableArray<(double X, double Y)> outline)
    {
        var path = new StringBuilder();
        for (var i = 0; i < outline.Length; i += EveryPoint)
            path.Append(
                CultureInfo.InvariantCulture,
                $"{(i == 0 ? 'M' : 'L')}{Math.Round(outline[i].X)} {Math.Round(outline[i].Y)}"
            );
        return path.Append('Z').ToString();
    }

    /// <summary>Ticks of a tape every 10 mm along x, each fifth longer, as a path.</summary>
    public static string Millimetres(double lengthMm) => Ticks(lengthMm, 10, 5, 9, 16);

    /// <summary>Ticks of its other edge every half inch, the whole ones longer.</summary>
    public static string Inches(double lengthMm) => Ticks(lengthMm, 12.7, 2, -9, -16);

    private static string Ticks(double lengthMm, double step, int longEvery, double shortMm, double longMm)
    {
        var path = new StringBuilder();
        for (var i = 0; i * step <= lengthMm + 0.01; i++)
            path.Append(
                CultureInfo.InvariantCulture,
                $"M{Math.Round(i * step, 1)} 0V{(i % longEvery == 0 ? longMm : shortMm)}"
            );
        return path.ToString();
    }
}
