using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Web.Wardrobe;

namespace ProofDesk.Web.Start;

/// <summary>
/// The garments on offer: those of the garments folder beside the server, read once, and the shop's own as they are kept now.
/// </summary>
public sealed class Garments(ImmutableArray<Garment> shipped, ShopGarments own)
{
    /// <summary>The garment with the most colours first: it is the one most orders are for.</summary>
    public ImmutableArray<Garment> Shipped { get; } = [.. MostColoursFirst(shipped)];

    /// <summary>What an order may be for: the shop's own in use come after those that ship.</summary>
    public ImmutableArray<Garment> All =>
        [.. Shipped, .. own.Current().Where(g => g.Row.RetiredAt is null).Select(g => g.Garment)];

    public ImmutableArray<Ground> Grounds => [.. All.SelectMany(g => g.Colours.Select(c => new Ground(g, c)))];

    /// <summary>Also of garments out of use and of a version that a proof names: old orders are read with them.</summary>
    public Ground? Find(string garmentId, string colourId) =>
        (Shipped.FirstOrDefault(g => g.Id == garmentId) ?? own.Find(garmentId)?.Garment) is { } garment
        && garment.Colour(colourId) is { } colour
            ? new Ground(garment, colour)
            : null;

    public Ground? Find(string id) => id.Split('/') is [var garment, var colour] ? Find(garment, colour) : null;

    private static IEnumerable<Garment> MostColoursFirst(ImmutableArray<Garment> all) =>
        all.OrderByDescending(g => g.Colours.Length);

    /// <summary>Every size of any garment, small to large by the half chest.</summary>
    public ImmutableArray<string> Sizes =>
        [
            .. All.SelectMany(g => g.Sizes)
                .GroupBy(s => s.Size)
                .OrderBy(size => size.Average(s => s.ChestMm))
                .Select(size => size.Key),
        ];
}

/// <summary>Colours as the six digits a page needs.</summary>
public static class Hex
{
    public static string Of(Lab lab) => Of(GamutMapping.IntoSrgb(Srgb.FromLab(lab)));

    public static string Of(Spectrum reflectance)
    {
        var xyz = Tristimulus.Of(reflectance, ViewingLight.D65);
        return Of(GamutMapping.IntoSrgb(Srgb.FromXyz(xyz, ViewingLight.D65)));
    }

    private static string Of(LinearRgb rgb) => $"#{Byte(rgb.R):x2}{Byte(rgb.G):x2}{Byte(rgb.B):x2}";

    private static int Byte(double linear) =>
        (int)Math.Round(Math.Clamp(Srgb.Encode(Math.Clamp(linear, 0, 1)), 0, 1) * 255);
}
