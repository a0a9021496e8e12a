using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Garments;

/// <summary>Which side a place is on, and how it is written.</summary>
public static class PlaceSides
{
    public static GarmentSide Side(this Place place) =>
        place is Place.Back or Place.Nape or Place.AllOverBack ? GarmentSide.Back : GarmentSide.Front;

    public static bool IsAllOver(this Place place) => place is Place.AllOverFront or Place.AllOverBack;

    /// <summary>LeftChest is "left-chest", as on the command line and in garment files.</summary>
    public static string Id(this Place place) =>
        string.Concat(place.ToString().Select((c, i) => char.IsUpper(c) && i > 0 ? $"-{c}" : $"{c}"))
            .ToLowerInvariant();
}
