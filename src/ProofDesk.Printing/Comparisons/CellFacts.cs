using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Comparisons;

/// <summary>What stands under the picture of a cell, counted and measured from its proof.</summary>
/// <param name="Inks">Names of the inks that run on this ground, in print order.</param>
/// <param name="Screens">Screens that run; sheets, jets and papers have none.</param>
/// <param name="Heads">Heads of the press that are taken, flashes and cooling among them; null where no carousel prints.</param>
/// <param name="FilmUm">Dry film above the cloth where it is thickest.</param>
/// <param name="Hand">What a hand notices, in words.</param>
/// <param name="GramsPer100">Ink of 100 prints as the films and meshes lay it, g.</param>
/// <param name="Cautions">What was found and wants a decision, as sentences without a full stop.</param>
/// <param name="NotShown">What the picture cannot show.</param>
/// <param name="FilmDpi">Resolution of the films the picture comes from.</param>
public sealed record CellFacts(
    ImmutableArray<string> Inks,
    int Screens,
    int? Heads,
    int? HeadsOfPress,
    double FilmUm,
    string Hand,
    double GramsPer100,
    double? DetailMm,
    string DetailWhy,
    ImmutableArray<string> Cautions,
    ImmutableArray<string> NotShown,
    double WidthMm,
    double HeightMm,
    int FilmDpi,
    string RecipeSha256
)
{
    public static CellFacts Of(Proof proof, GroundProof ground)
    {
        var rows = ground.InkList.Rows;
        var detail = SmallestDetail.Of(proof, ground);
        return new(
            [.. rows.Select(row => row.Ink).Distinct()],
            rows.Count(row => row.MeshThreadsPerCm > 0),
            ground.PressPlan is { } plan ? plan.Heads.Count(head => head.Task != HeadTask.Free) : null,
            ground.PressPlan?.Equipment.Heads,
            ground.Hand?.ThickestUm ?? 0,
            ground.Hand?.Words ?? "",
            rows.Sum(row => row.GramsPer100Prints),
            detail?.Mm,
            detail?.Why ?? "",
            [.. proof.Findings.Where(f => f.Weight == FindingWeight.Warning).Select(f => f.Message).Distinct()],
            [.. NotOnScreen.Of(ground)],
            proof.Separation.WidthMm,
            proof.Separation.HeightMm,
            (int)proof.Films.Device.OwnXDpi,
            proof.Recipe.Sha256
        )
        {
            Matter = proof.Request.Method.ColourInk switch
            {
                InkKind.Sheet => "sheet",
                InkKind.Foil => "adhesive",
                InkKind.Dye => "dye ink",
                _ => "ink",
            },
        };
    }

    /// <summary>What is weighed: ink, or what takes its place.</summary>
    public string Matter { get; init; } = "ink";

    /// <summary>"6 of 10", or how it prints without heads.</summary>
    public string HeadsWords => Heads is { } taken ? $"{taken} of {HeadsOfPress}" : "none";
}
