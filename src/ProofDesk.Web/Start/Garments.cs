using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Web.Start;

/// <summary>The garments on offer, read once from the garments folder beside the server.</summary>
public sealed class Garments(ImmutableArray<Garment> all)
{
    public ImmutableArray<Garment> All { get; } = all;

    public ImmutableArray<Ground> Grounds { get; } = [.. all.SelectMany(g => g.Colours.Select(c => new Ground(g, c)))];

    public Ground? Find(string garmentId, string colourId) =>
        Grounds.FirstOrDefault(g => g.Garment.Id == garmentId && g.Colour.Id == colourId);

    public Ground? Find(string id) => Grounds.FirstOrDefault(g => g.Id == id);

    public ImmutableArray<string> Sizes => [.. All.SelectMany(g => g.Sizes).Select(s => s.Size).Distinct()];
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
