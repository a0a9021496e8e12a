namespace ProofDesk.Printing.Artworks;

/// <summary>Named places of a garment. Left and right are the wearer's.</summary>
public enum Place
{
    Front,
    Back,
    LeftChest,
    RightChest,
    LeftSleeve,
    RightSleeve,
    Nape,
    InsideNeck,

    /// <summary>The whole front, sleeves included, past the outline: belt printing, sublimation, cut panels.</summary>
    AllOverFront,

    /// <summary>The whole back, sleeves included.</summary>
    AllOverBack,
}

/// <summary>
/// A tape measure: from a seam to the top edge of the inked extent, and from the garment's centre line (for a sleeve:
/// the sleeve's own centre line) to the centre of the inked extent.
/// </summary>
/// <param name="Place">Named place.</param>
/// <param name="FromSeamMm">Down from the collar seam to the top edge; on sleeves, up from the sleeve hem to the bottom edge.</param>
/// <param name="FromCentreMm">Towards the wearer's left, mm; 0 = centred.</param>
/// <param name="WidthMm">Width of the inked extent.</param>
public sealed record Placement(Place Place, double FromSeamMm, double FromCentreMm, double WidthMm)
{
    /// <summary>The usual tape measure of a place for an adult size; common practice (the trade, no published source).</summary>
    public static Placement Usual(Place place, double widthMm) =>
        place switch
        {
            Place.Front => new(place, 75, 0, widthMm),
            Place.Back => new(place, 95, 0, widthMm),
            Place.LeftChest => new(place, 85, 105, widthMm),
            Place.RightChest => new(place, 85, -105, widthMm),
            Place.LeftSleeve or Place.RightSleeve => new(place, 30, 0, widthMm),
            Place.Nape => new(place, 25, 0, widthMm),
            Place.InsideNeck => new(place, 20, 0, widthMm),
            // From where it starts depends on the garment: GarmentShape.AllOver knows.
            Place.AllOverFront or Place.AllOverBack => new(place, 0, 0, widthMm),
            _ => throw new ArgumentOutOfRangeException(nameof(place), place, "unknown place"),
        };
}
