using System.Collections.Immutable;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Costs;

/// <summary>What costs on one ground.</summary>
/// <param name="Name">The garment in its colour.</param>
/// <param name="Passes">Times a screen prints on one garment; print-flash-print counts twice.</param>
/// <param name="Flashes">Flashes between passes.</param>
/// <param name="HasWhite">A white or another base runs here.</param>
/// <param name="Grams">Ink on one garment as the films and meshes lay it, g; real use is more.</param>
/// <param name="SheetCm2">Sheet, foil, paper or cloth one garment takes, cm2.</param>
public sealed record CostedGround(string Name, int Passes, int Flashes, bool HasWhite, double Grams, double SheetCm2);

/// <summary>What costs of one print by one method, whatever the quantity. Lines of an order that share screens are grounds of one print.</summary>
/// <param name="Screens">Screens made and set up once for all grounds.</param>
public sealed record CostedPrint(
    string MethodId,
    string MethodName,
    MethodWork Work,
    PressClass Press,
    int Screens,
    ImmutableArray<CostedGround> Grounds
)
{
    /// <summary>Counts screens, passes and ink of a proof that was made.</summary>
    public static CostedPrint Of(Proof proof)
    {
        var (method, plates) = (proof.Request.Method, proof.Separation.Plates);
        var sheet = proof.Art.WidthMm * proof.Art.HeightMm / 100;
        return new(
            method.Id,
            method.Name,
            method.Work,
            proof.Request.Spot.PressClass,
            plates.Count(p => !p.Mesh.IsNone),
            [.. proof.Grounds.Select(g => Ground(g))]
        );

        CostedGround Ground(GroundProof ground)
        {
            var runs = ground.Plan.Runs.Where(r => r.Runs).ToArray();
            var cut = runs.Select(r => r.Plate).Distinct().Sum(p => proof.Measures[p].AreaCm2);
            return new(
                $"{ground.Ground.Garment.Name}, {ground.Ground.Colour.Name}",
                runs.Count(r => !plates[r.Plate].Mesh.IsNone),
                runs.SkipLast(1).Count(r => r.FlashAfter),
                runs.Any(r => plates[r.Plate].Purpose.IsUnderColours),
                ground.InkList.Rows.Sum(r => r.GramsPer100Prints) / 100,
                method.Work.CutsSheets ? cut : sheet
            );
        }
    }
}
