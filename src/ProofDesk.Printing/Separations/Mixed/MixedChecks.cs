using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Separations.Inverse;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>What is said about the flat part of mixed art.</summary>
internal static class MixedChecks
{
    /// <summary>Of less that stays toned nobody speaks.</summary>
    private const double LeastNamedMm2 = 50;

    private const string SwitchOff = "nothing, or ask for flat areas to be toned as well";

    public static IEnumerable<Finding> Of(TonalJob job, FlatArt solid, ImmutableArray<SolidInk> inks, FlatArt toned)
    {
        for (var i = 0; i < inks.Length; i++)
        {
            yield return Kept(job, solid.Colours[i], inks[i]);
        }
        foreach (var plate in job.Plates.Where(p => p.Ink.Id.StartsWith(AssumedInk.Prefix, StringComparison.Ordinal)))
            yield return new(
                "mix-to-match",
                FindingWeight.Note,
                $"{plate.Name} is mixed to match #{plate.Ink.Id[AssumedInk.Prefix.Length..]}: its spectrum is assumed from the art's colour",
                "ask the ink's supplier for the formula and print a sample on this cloth"
            );
        foreach (var colour in toned.Colours.Where(c => c.AreaMm2 >= LeastNamedMm2))
            yield return new(
                "flat-colour-toned",
                FindingWeight.Note,
                Text(
                    $"{colour.Hex} stands flat on {colour.AreaMm2 / 100:0.0} cm2, but no ink of this set prints it solid near enough: it is toned like the picture, its edges are made of dots"
                ),
                job.Plates.Any(p => p.Purpose == PlatePurpose.Process)
                    ? "nothing, or print it with simulated-process, where it gets an ink of its own"
                    : "ask for one more screen, or list an ink of this colour",
                Math.Round(colour.AreaMm2 / 100, 1),
                null,
                "cm2"
            );
    }

    private static Finding Kept(TonalJob job, FlatColour colour, SolidInk ink)
    {
        var area = Math.Round(colour.AreaMm2 / 100, 1);
        if (ink.IsCloth)
            return new(
                "flat-colour-solid",
                FindingWeight.Note,
                Text(
                    $"{colour.Hex} stands flat on {area:0.0} cm2 and is left to the cloth: no ink there, and no dots at its edges"
                ),
                SwitchOff,
                area,
                null,
                "cm2"
            );
        var plates = string.Join(" and ", ink.Plates.Where(p => !IsBelow(job, ink, p)).Select(p => Name(job, p)));
        var below = ink.Plates.Any(p => IsBelow(job, ink, p)) ? " over a solid base" : "";
        var ground = job.Grounds[ink.Ground].Colour.Name.ToLowerInvariant();
        return new(
            "flat-colour-solid",
            FindingWeight.Note,
            Text(
                $"{colour.Hex} stands flat on {area:0.0} cm2 and is printed solid in {plates}{below}, {ink.Off:0.0} dE00 from the art on {ground}: no dots on it, sharp edges"
            ),
            SwitchOff,
            area,
            null,
            "cm2"
        );
    }

    private static bool IsBelow(TonalJob job, SolidInk ink, int plate) =>
        job.Plates[plate].Purpose.IsBase && ink.Plates.Any(p => !job.Plates[p].IsWhite);

    private static string Name(TonalJob job, int plate) => job.Plates[plate].Name.ToLowerInvariant();
}
