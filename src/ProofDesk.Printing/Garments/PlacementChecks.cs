using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Garments;

/// <summary>
/// Does the print lie flat at its place in every size: off pockets, zips and seams, and no wider than the print area.
/// A tape measure does not grade, so the smallest size decides.
/// </summary>
public static class PlacementChecks
{
    /// <summary>The same for every garment of a set of grounds.</summary>
    public static ImmutableArray<Finding> Of(
        ImmutableArray<Ground> grounds,
        Placement placement,
        double heightMm,
        ImmutableArray<string> sizes
    ) => [.. grounds.Select(g => g.Garment).DistinctBy(g => g.Id).SelectMany(g => Of(g, placement, heightMm, sizes))];

    /// <summary>What is to be known about a print of this size at this place.</summary>
    /// <param name="sizes">Sizes of the order; empty = all the garment comes in. Sizes it does not have are left out.</param>
    public static ImmutableArray<Finding> Of(
        Garment garment,
        Placement placement,
        double heightMm,
        ImmutableArray<string> sizes
    )
    {
        if (garment.Shape is not { } shape)
            return [];
        if (shape.Anchor(placement.Place) is not { } anchor)
            return [NoSuchPlace(garment, shape, placement.Place)];
        GarmentSize[] ordered =
        [
            .. garment
                .Sizes.Where(s => sizes.IsDefaultOrEmpty || sizes.Contains(s.Size))
                .DefaultIfEmpty(garment.Sizes[0]),
        ];
        // An all-over print runs over everything; the methods that print so have their own findings.
        return placement.Place.IsAllOver()
            ? []
            :
            [
                .. TooLarge(garment, placement, heightMm, anchor, ordered),
                .. ObstacleCheck.Of(garment, shape, placement, heightMm, anchor, ordered),
            ];
    }

    private static Finding NoSuchPlace(Garment garment, GarmentShape shape, Place place) =>
        new(
            "no-such-place",
            FindingWeight.Refusal,
            $"{garment.Name} has no place {place.Id()}",
            $"choose {string.Join(", ", shape.Places.Select(p => p.Place.Id()))}, or another garment"
        );

    private static IEnumerable<Finding> TooLarge(
        Garment garment,
        Placement placement,
        double heightMm,
        PlaceAnchor anchor,
        GarmentSize[] sizes
    )
    {
        if (anchor.Area is not { } area)
            yield break;
        var narrowest = sizes.MinBy(s => area.Width.Of(s))!;
        var widest = Math.Floor(area.Width.Of(narrowest));
        if (placement.WidthMm > widest)
            yield return new(
                "wider-than-print-area",
                FindingWeight.Warning,
                Text(
                    $"the print is {placement.WidthMm:0.#} mm wide, the {placement.Place.Id()} of {garment.Name} in {narrowest.Size} takes {widest:0}"
                ),
                Text($"make it at most {widest:0} mm wide, or give the small sizes a print of their own"),
                Math.Round(placement.WidthMm, 1),
                widest,
                "mm"
            );
        var shortest = sizes.MinBy(s => area.Height.Of(s))!;
        var highest = Math.Floor(area.Height.Of(shortest));
        if (heightMm > highest)
            yield return new(
                "higher-than-print-area",
                FindingWeight.Warning,
                Text(
                    $"the print is {heightMm:0.#} mm high, the {placement.Place.Id()} of {garment.Name} in {shortest.Size} takes {highest:0}"
                ),
                Text(
                    $"make it at most {Math.Floor(placement.WidthMm * highest / heightMm):0} mm wide, or give the small sizes a print of their own"
                ),
                Math.Round(heightMm, 1),
                highest,
                "mm"
            );
    }

    internal static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
