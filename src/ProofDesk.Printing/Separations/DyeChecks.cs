using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Dyes;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations;

/// <summary>What a dye print has to say about cloth and art.</summary>
internal static class DyeChecks
{
    /// <summary>Below this share of polyester the print is muted, not merely a little paler (common practice).</summary>
    private const double MutedBelow = 0.65;

    /// <summary>A cloth below this lightness tints the whole print.</summary>
    private const double WhiteFrom = 90;

    public static ImmutableArray<Finding> Refusals(
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings
    ) =>
        [
            .. grounds.Select(g => Sublimation.Refusal(g.Colour)).OfType<string>().Select(Refusal),
            .. settings.Base is BaseChoice.White or BaseChoice.Discharge
                ? [NoBase(method)]
                : Enumerable.Empty<Finding>(),
            .. settings
                .Inks.Inks.Where(ink => ink.Kind != InkKind.Dye)
                .Select(ink => new Finding(
                    "ink-of-another-method",
                    FindingWeight.Refusal,
                    $"{ink.Name} ({ink.Id}) is not an ink of {method.Id}",
                    "leave the inks to the print file: it is always cyan, magenta, yellow and black dye"
                )),
        ];

    public static Finding NothingToDye() =>
        new(
            "no-plate",
            FindingWeight.Warning,
            "no dye is printed: the art is white, and white is the cloth",
            "supply art with colour in it",
            0,
            1,
            "plates"
        );

    public static IEnumerable<Finding> Of(SizedArt art, ImmutableArray<Ground> grounds) =>
        [
            .. HasWhite(art) ? [White(grounds)] : Enumerable.Empty<Finding>(),
            .. grounds.Where(g => Sublimation.Refusal(g.Colour) is null).SelectMany(Cloth),
        ];

    /// <summary>The same cloth, all of it polyester: what a blend is compared with.</summary>
    internal static GarmentColour AllPolyester(GarmentColour colour) =>
        colour with
        {
            Fibres = [new(FibreKind.Polyester, 1)],
            HeatherFleck = null,
        };

    private static Finding Refusal(string text)
    {
        var parts = text.Split(": ", 2);
        return new("cannot-be-sublimated", FindingWeight.Refusal, parts[0], parts[^1]);
    }

    private static Finding NoBase(PrintMethod method) =>
        new(
            "base-not-of-this-method",
            FindingWeight.Refusal,
            $"{method.Id} has no base: dye is clear and there is no white dye",
            "choose base auto or none; on a dark garment choose another method"
        );

    private static Finding White(ImmutableArray<Ground> grounds) =>
        new(
            "white-is-the-cloth",
            FindingWeight.Note,
            "white areas are not printed: there is no white dye, they show the cloth of "
                + string.Join(", ", grounds.Select(g => g.Colour.Name.ToLowerInvariant())),
            "nothing, or choose a method with a white ink"
        );

    private static IEnumerable<Finding> Cloth(Ground ground)
    {
        var name = ground.Colour.Name.ToLowerInvariant();
        var share = Sublimation.PolyesterShare(ground.Colour);
        if (share < 0.995)
        {
            var loss = ChromaLoss(ground.Colour);
            var black = Solid(ground.Colour, SublimationDye.Default[3]);
            yield return new(
                "muted-on-blend",
                share < MutedBelow ? FindingWeight.Warning : FindingWeight.Note,
                Text(
                    $"{name} is {100 * share:0} % polyester and the other fibres take no dye: full cyan, magenta and yellow lose {100 * loss:0} % of their chroma against polyester alone, black prints at L* {black.L:0}"
                ),
                share < MutedBelow
                    ? "show the client the muted proof and say so, or choose a garment of 65 % polyester or more"
                    : "nothing, or choose a garment of polyester alone",
                Math.Round(100 * share),
                100 * MutedBelow,
                "%"
            );
        }
        var cloth = CieLab.FromXyz(Tristimulus.Of(ground.Colour.Reflectance, ViewingLight.D50), ViewingLight.D50);
        if (cloth.L < WhiteFrom)
            yield return new(
                "ground-tints-print",
                FindingWeight.Note,
                Text(
                    $"{name} has L* {cloth.L:0}: its colour shows through every dye, and nothing prints lighter than it"
                ),
                "nothing, or choose a white garment",
                Math.Round(cloth.L),
                WhiteFrom,
                "L*"
            );
    }

    /// <summary>Mean share of chroma that full cyan, magenta and yellow lose against the same cloth of polyester alone.</summary>
    internal static double ChromaLoss(GarmentColour colour)
    {
        var whole = AllPolyester(colour);
        return SublimationDye.Default.Take(3).Average(dye => 1 - Solid(colour, dye).Chroma / Solid(whole, dye).Chroma);
    }

    private static Lab Solid(GarmentColour colour, SublimationDye dye) =>
        CieLab.FromXyz(Tristimulus.Of(Sublimation.Cloth(colour, [(dye, 1)]), ViewingLight.D50), ViewingLight.D50);

    private static bool HasWhite(SizedArt art)
    {
        const ushort white = 64000; // sRGB code 252
        long count = 0;
        var pixels = art.Pixels.Pixels;
        for (var i = 0; i < pixels.Length; i += 4)
            if (pixels[i + 3] > 32767 && pixels[i] >= white && pixels[i + 1] >= white && pixels[i + 2] >= white)
                count++;
        // A thousandth of the art: less is the rim of a letter.
        return count * 4000 > pixels.Length;
    }
}
