using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Garments;

/// <summary>How far a print reaches over, or comes near to, what the garment has on it, in every size of the order.</summary>
internal static class ObstacleCheck
{
    private const double StepMm = 2;

    public static IEnumerable<Finding> Of(
        Garment garment,
        GarmentShape shape,
        Placement placement,
        double heightMm,
        PlaceAnchor anchor,
        GarmentSize[] sizes
    )
    {
        foreach (var obstacle in shape.View(anchor.Side)?.Obstacles ?? [])
        {
            var touched = sizes
                .Select(size => (Size: size, Reach: Reach(obstacle, placement, heightMm, anchor, size)))
                .ToArray();
            if (touched.Any(t => t.Reach > 0))
                yield return Overlap(garment, obstacle, touched, placement, heightMm, anchor);
            else if (touched.Any(t => -t.Reach < obstacle.ClearanceMm))
                yield return Near(garment, obstacle, touched);
        }
    }

    private static Finding Overlap(
        Garment garment,
        GarmentObstacle obstacle,
        (GarmentSize Size, double Reach)[] touched,
        Placement placement,
        double heightMm,
        PlaceAnchor anchor
    )
    {
        var list = BySize([.. touched.Where(t => t.Reach > 0).Select(t => (t.Size.Size, Up(t.Reach)))]);
        var sizes = touched.Select(t => t.Size).ToArray();
        return new(
            "obstacle",
            FindingWeight.Warning,
            $"the print runs over the {obstacle.Name} of {garment.Name} by {list}",
            WidthThatFits(obstacle, placement, heightMm, anchor, sizes) is { } fits
                ? PlacementChecks.Text(
                    $"make it at most {fits:0} mm wide, move it, or choose a garment without {Article(obstacle.Kind)} there"
                )
                : $"move it, or choose a garment without {Article(obstacle.Kind)} there",
            Up(touched.Max(t => t.Reach)),
            0,
            "mm"
        );
    }

    /// <summary>"40 mm on S, 28 mm on M to 3XL": neighbours with the same number are said together.</summary>
    private static string BySize((string Size, double Mm)[] sizes)
    {
        var said = new List<string>();
        for (var i = 0; i < sizes.Length; )
        {
            var last = i;
            while (last + 1 < sizes.Length && sizes[last + 1].Mm == sizes[i].Mm)
                last++;
            var which = (last - i) switch
            {
                0 => sizes[i].Size,
                1 => $"{sizes[i].Size} and {sizes[last].Size}",
                _ => $"{sizes[i].Size} to {sizes[last].Size}",
            };
            said.Add(PlacementChecks.Text($"{sizes[i].Mm:0} mm on {which}"));
            i = last + 1;
        }
        return string.Join(", ", said);
    }

    private static Finding Near(Garment garment, GarmentObstacle obstacle, (GarmentSize Size, double Reach)[] touched)
    {
        var nearest = touched.MaxBy(t => t.Reach);
        return new(
            "near-obstacle",
            FindingWeight.Warning,
            PlacementChecks.Text(
                $"the print comes within {-nearest.Reach:0} mm of the {obstacle.Name} of {garment.Name} in {nearest.Size.Size}; {obstacle.ClearanceMm:0} mm is needed for the screen to lie flat"
            ),
            PlacementChecks.Text($"move it by {Up(obstacle.ClearanceMm + nearest.Reach):0} mm, or make it smaller"),
            Math.Round(-nearest.Reach),
            obstacle.ClearanceMm,
            "mm"
        );
    }

    /// <summary>
    /// Positive: the smaller side of the part of the print that lies on the obstacle, mm, which is how far the print has to
    /// give way. Negative: the distance to it.
    /// </summary>
    internal static double Reach(
        GarmentObstacle obstacle,
        Placement placement,
        double heightMm,
        PlaceAnchor anchor,
        GarmentSize size
    )
    {
        var print = PrintRectangle.Of(placement, heightMm, anchor, size);
        var outline = obstacle.Outline.Flatten(size, StepMm);
        var own = Array.ConvertAll(outline, print.Own);
        var inside = print.Clip(own);
        if (inside.Count > 0)
        {
            var width = inside.Max(p => p.X) - inside.Min(p => p.X);
            var height = inside.Max(p => p.Y) - inside.Min(p => p.Y);
            if (width > 0 && height > 0)
                return Math.Min(width, height);
        }
        return -own.Min(print.Distance);
    }

    /// <summary>The widest print with the same top edge and centre that clears the obstacle in all sizes; null when none of a fifth does.</summary>
    private static double? WidthThatFits(
        GarmentObstacle obstacle,
        Placement placement,
        double heightMm,
        PlaceAnchor anchor,
        GarmentSize[] sizes
    )
    {
        for (var width = Math.Floor(placement.WidthMm - 1); width >= placement.WidthMm / 5; width--)
        {
            var smaller = placement with { WidthMm = width };
            var height = heightMm * width / placement.WidthMm;
            if (sizes.All(s => -Reach(obstacle, smaller, height, anchor, s) >= obstacle.ClearanceMm))
                return width;
        }
        return null;
    }

    /// <summary>Whole mm that are enough; a thousandth of one is rounding.</summary>
    private static double Up(double mm) => Math.Ceiling(Math.Round(mm, 3));

    private static string Article(ObstacleKind kind) => $"a {kind.ToString().ToLowerInvariant()}";
}
