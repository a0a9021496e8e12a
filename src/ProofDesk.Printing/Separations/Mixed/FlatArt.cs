using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>A colour of mixed art that stands flat with crisp edges: lettering, a logo, a plain field.</summary>
/// <param name="Linear">Mean of its pure pixels.</param>
/// <param name="AreaMm2">What stands pure of it.</param>
/// <param name="Regions">Connected areas.</param>
internal sealed record FlatColour(LinearRgb Linear, double AreaMm2, int Regions)
{
    /// <summary>As spot art would hold it.</summary>
    public PaletteColour ForPalette
    {
        get
        {
            var seen = ColourHistogram.Seen(Linear);
            return new(Linear, seen, [seen], AreaMm2);
        }
    }

    public string Hex => ForPalette.Hex;
}

/// <summary>The flat part of mixed art; what is left is painted.</summary>
/// <param name="Colours">The largest first.</param>
/// <param name="Shares">For each colour, how much of it stands in each pixel, 0..255: antialiased edges are taken apart.</param>
internal sealed record FlatArt(ImmutableArray<FlatColour> Colours, ImmutableArray<BytePlane> Shares)
{
    public static FlatArt None { get; } = new([], []);

    public bool IsEmpty => Colours.IsEmpty;

    /// <summary>Only these colours.</summary>
    public FlatArt Only(Func<int, bool> which)
    {
        var kept = Enumerable.Range(0, Colours.Length).Where(which).ToArray();
        return new([.. kept.Select(i => Colours[i])], [.. kept.Select(i => Shares[i])]);
    }
}
