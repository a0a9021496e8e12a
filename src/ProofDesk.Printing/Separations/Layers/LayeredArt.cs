using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;

namespace ProofDesk.Printing.Separations.Layers;

/// <summary>The door of layered art: keeps the layers for methods that print inks of their own, flattens them for all others.</summary>
internal static class LayeredArt
{
    /// <summary>The methods that put an ink of its own colour on each plate. Simulated process does, once the plates are given.</summary>
    private static readonly ImmutableHashSet<string> SpotMethods =
    [
        "plastisol",
        "water-based",
        "discharge",
        "metallic",
        "foil",
        "vinyl",
        "plastisol-transfer",
    ];

    private const string GivenPlates = "simulated-process";

    public static Separation Separate(
        SizedArt art,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    )
    {
        var layers = art.Artwork.Layers.Length;
        if (layers == 0)
            return method.Separate(art, method, grounds, settings);
        var keeps = settings.Layers == LayerChoice.Keep && art.Layers.Length > 0;
        if (keeps && method.Id == GivenPlates)
            return LayeredSeparation.Separate(art, method, grounds, settings);
        if (keeps && SpotMethods.Contains(method.Id))
            return method.Separate(art, method, grounds, settings);
        var flat = method.Separate(art with { Layers = [] }, method, grounds, settings);
        return flat with { Findings = [.. flat.Findings, Flattened(layers, method, settings)] };
    }

    private static Finding Flattened(int layers, PrintMethod method, SpotSettings settings) =>
        settings.Layers == LayerChoice.Flatten
            ? new(
                "layers-flattened",
                FindingWeight.Note,
                $"the {layers} layers of the file are taken as one picture, as was asked for: its plates come from its colours",
                "nothing, or keep the layers to have a plate of each",
                layers,
                null,
                "layers"
            )
            : new(
                "layers-flattened",
                FindingWeight.Warning,
                $"the {layers} layers of the file are taken as one picture: {method.Id} makes its colours from inks of its own",
                "nothing, or print it with plastisol or another method of spot inks to have a plate of each layer",
                layers,
                null,
                "layers"
            );
}
