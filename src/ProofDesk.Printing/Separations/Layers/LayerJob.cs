using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>Layers with their inks, and what is said about it.</summary>
/// <param name="Refusals">Layers of which nothing says the ink.</param>
internal sealed record LayerMatches(
    ImmutableArray<LayerMatch> Layers,
    ImmutableArray<Finding> Findings,
    ImmutableArray<Finding> Refusals
);

/// <summary>What the steps of a layered separation share: the art, what was chosen, and how solids look.</summary>
/// <param name="Tones">Per layer, where its tone is; default where the method has solids only.</param>
internal sealed record LayerJob(
    SizedArt Art,
    PrintMethod Method,
    ImmutableArray<Ground> Grounds,
    SpotSettings Settings,
    Appearance Appearance,
    Mesh Mesh,
    ImmutableArray<BytePlane?> Tones
)
{
    public int Width => Art.Pixels.Width;
    public int Height => Art.Pixels.Height;

    /// <summary>Pixels of a mm2.</summary>
    public double PerMm2 => Art.PixelsPerMm * Art.PixelsPerMm;

    public bool HasTones => !Tones.IsDefault;

    public BytePlane? ToneOf(ArtLayer layer) => HasTones ? Tones[Art.Layers.IndexOf(layer)] : null;

    /// <summary>The ground whose cloth differs most from white: what a base would be for.</summary>
    private Ground Darkest => Grounds.MinBy(g => Appearance.Cloth(g).L)!;

    public LayerMatches Match()
    {
        var assignment = new InkAssignment(Method, Grounds, Settings, Appearance, Mesh);
        var matching = new LayerMatching(
            Method,
            Settings,
            Appearance.BaseWhite.Ink,
            (wanted, hex) => assignment.InkOf(Colour(hex, wanted)),
            Printed
        );
        var layers = ImmutableArray.CreateBuilder<LayerMatch>();
        var refusals = ImmutableArray.CreateBuilder<Finding>();
        var names = new PlateNames();
        foreach (var layer in Art.Layers)
            if (matching.Of(layer) is { } match)
                layers.Add(match with { Name = names.Take(match.Name) });
            else
                refusals.Add(LayerFindings.NoInk(layer, Method, Settings));
        return new(
            layers.ToImmutable(),
            [.. layers.Where(l => !l.IsUnder).Select(LayerFindings.Matched)],
            refusals.ToImmutable()
        );
    }

    /// <summary>How a solid comes out where this job prints it: on the base where one may run, else on the cloth.</summary>
    public Lab Printed(Ink ink) =>
        Settings.Base != BaseChoice.None && !ClothShows.IsPale(Appearance.Cloth(Darkest)) && ink.Role != InkRole.White
            ? Appearance.Of(Darkest, ink, Mesh, true)
            : Appearance.Of(Darkest, ink, Mesh, false);

    /// <summary>The colour of a layer as the art's; where the file does not say, what its ink gives here.</summary>
    public PaletteColour PaletteOf(LayerMatch match)
    {
        var area = Area(match.Coverage);
        return match.Shown is { } shown
            ? Colour(match.Layer.Colour!, shown, area)
            : Colour("", Printed(match.Ink), area);
    }

    public static PaletteColour Colour(string hex, Lab lab, double weight = 1)
    {
        var linear = ClothShows.Hex(hex) ?? GamutMapping.IntoSrgb(Srgb.FromLab(lab));
        var seen = ColourHistogram.Seen(linear);
        return new(linear, seen, [seen], weight);
    }

    /// <summary>Pixels of the layer, its tints counted by their tone.</summary>
    public static double Area(BytePlane plane)
    {
        unchecked
        {
            var sum = 0L;
            foreach (var value in plane.Pixels)
                sum += value;
            return sum / 255.0;
        }
    }

    /// <summary>Pixels where both print.</summary>
    public static double Shared(BytePlane one, BytePlane other)
    {
        var sums = new long[one.Height];
        RowLoop.Run(
            one.Height,
            one.Width,
            y =>
            {
                var a = one.Row(y);
                var b = other.Row(y);
                unchecked
                {
                    var sum = 0L;
                    for (var x = 0; x < a.Length; x++)
                        sum += Math.Min(a[x], b[x]);
                    sums[y] = sum;
                }
            }
        );
        return sums.Sum() / 255.0;
    }
}
