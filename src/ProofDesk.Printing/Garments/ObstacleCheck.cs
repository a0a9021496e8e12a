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
        // A print for the hood or the pocket lies on it by intention.
        var ownKind = placement.Place switch
        {
            Place.Hood => ObstacleKind.Hood,
            Place.Pocket => ObstacleKind.Pocket,
            _ => (ObstacleKind?)null,
        };
        foreach (var obstacle in shape.View(anchor.Side)?.Obstacles ?? [])
        {
            if (obstacle.Kind == ownKind)
                continue;
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
        var list = string.Join(
            ", ",
            touched.Where(t => t.Reach > 0).Select(t => PlacementChecks.Text($"{t.Reach:0} mm on {t.Size.Size}"))
        );
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
            Math.Round(touched.Max(t => t.Reach)),
            0,
            "mm"
        );
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
            PlacementChecks.Text(
                $"move it by {Math.Ceiling(obstacle.ClearanceMm + nearest.Reach):0} mm, or make it smaller"
            ),
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

    private static string Article(ObstacleKind kind) => $"a {kind.ToString().ToLowerInvariant()}";
}
