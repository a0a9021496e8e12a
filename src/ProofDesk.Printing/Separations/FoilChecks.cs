using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Artworks;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Separations;

/// <summary>What foil does not hold: lines and gaps, measured in the art with length and place, and how many foils are pressed.</summary>
internal static class FoilChecks
{
    /// <summary>Thinner lines break, thinner gaps fill with foil ([PHYSICS] 1.11, common practice).</summary>
    public const double LeastMm = 0.5;

    public static IEnumerable<Finding> Features(Plate plate, double pixelsPerMm)
    {
        if (plate.Shape is not { } shape)
            yield break;
        if (ThinStrokes.Find(shape, pixelsPerMm, LeastMm) is { } lines)
            yield return Of(
                "foil-lines-too-thin",
                lines,
                $"of \"{plate.Name}\" are lines thinner than {LeastMm} mm",
                "foil breaks there",
                "thicken them, place the print larger, or print them as metallic ink"
            );
        if (ThinStrokes.Gaps(shape, pixelsPerMm, LeastMm) is { } gaps)
            yield return Of(
                "foil-gaps-too-thin",
                gaps,
                $"of \"{plate.Name}\" are gaps thinner than {LeastMm} mm",
                "foil fills them",
                "open them, or place the print larger"
            );
    }

    public static IEnumerable<Finding> Runs(Separation separation)
    {
        var foils = separation.Plates.Select(p => p.Ink.Id).Distinct().Count();
        if (foils > 1)
            yield return new(
                "several-foils",
                FindingWeight.Warning,
                $"the art takes {foils} foils: each is printed and pressed on its own, and a later foil also sticks to earlier adhesive that is not covered",
                "use one foil and print the other colours, or choose one with --inks",
                foils,
                1,
                "foils"
            );
        if (foils > 0)
            yield return new(
                "foil-wears",
                FindingWeight.Note,
                "foil mirrors more than any ink and wears sooner: it loses flakes with each wash, first at edges and where the cloth stretches",
                "say so to the client, or print metallic ink, which is duller and outlives it"
            );
    }

    private static Finding Of(string code, ThinStrokes thin, string what, string then, string next) =>
        new(
            code,
            FindingWeight.Warning,
            Text(
                $"{thin.LengthMm:0} mm {what}, the thinnest {thin.ThinnestMm:0.00} mm at {thin.XMm:0} mm from the left and {thin.YMm:0} mm from the top: {then}"
            ),
            next,
            Math.Round(thin.ThinnestMm, 2),
            LeastMm,
            "mm"
        )
        {
            Spot = FindingSpot.Around(thin.XMm, thin.YMm),
        };
}
