using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Web.Start;

/// <summary>The garments on offer, read once from the garments folder beside the server.</summary>
public sealed class Garments(ImmutableArray<Garment> all)
{
    /// <summary>The garment with the most colours first: it is the one most orders are for.</summary>
    public ImmutableArray<Garment> All { get; } = [.. MostColoursFirst(all)];

    public ImmutableArray<Ground> Grounds { get; } =
    [.. MostColoursFirst(all).SelectMany(g => g.Colours.Select(c => new Ground(g, c)))];

    public Ground? Find(string garmentId, string colourId) =>
        Grounds.FirstOrDefault(g => g.Garment.Id == garmentId && g.Colour.Id == colourId);

    public Ground? Find(string id) => Grounds.FirstOrDefault(g => g.Id == id);

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
