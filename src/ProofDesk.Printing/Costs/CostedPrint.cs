using System.Collections.Immutable;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Costs;

/// <summary>What costs on one ground.</summary>
/// <param name="Name">The garment in its colour.</param>
/// <param name="Passes">Times a screen prints on one garment; print-flash-print counts twice.</param>
/// <param name="Flashes">Flashes between passes.</param>
/// <param name="HasWhite">A white or another base runs here.</param>
/// <param name="Grams">Ink on one garment as the films and meshes lay it, g; real use is more.</param>
/// <param name="SheetCm2">Sheet, foil, paper or cloth one garment takes, cm2.</param>
public sealed record CostedGround(string Name, int Passes, int Flashes, bool HasWhite, double Grams, double SheetCm2)
{
    /// <summary>Pieces on this ground for so many on the others, where a run is counted by its sum.</summary>
    public int Weight { get; init; } = 1;
}

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
    public static CostedPrint Of(Proof proof) =>
        Of(
            proof.Separation,
            proof.Request.Method,
            proof.Request.Spot.PressClass,
            [.. proof.Measures.Select(m => m.AreaCm2)],
            [.. proof.Grounds.Select(g => g.InkList.Rows.Sum(r => r.GramsPer100Prints) / 100)]
        );

    /// <summary>The same before anything is screened: areas and ink from the tones of the plates.</summary>
    public static CostedPrint Of(Separation separation, PrintMethod method, PressClass press)
    {
        ImmutableArray<double> areas = [.. separation.Plates.Select(p => AreaCm2(p, separation.PixelsPerMm))];
        return Of(
            separation,
            method,
            press,
            areas,
            [
                .. separation.Grounds.Select(g =>
                    g.Runs.Where(r => r.Runs).Sum(r => Grams(separation, method, r, areas[r.Plate]))
                ),
            ]
        );
    }

    /// <summary>Inked area of a plate as its film will have it: the mean of its tones.</summary>
    public static double AreaCm2(Plate plate, double pixelsPerMm) =>
        PlateTones.Of(plate).InkedPixels / (pixelsPerMm * pixelsPerMm) / 100;

    private static CostedPrint Of(
        Separation separation,
        PrintMethod method,
        PressClass press,
        ImmutableArray<double> areasCm2,
        ImmutableArray<double> grams
    )
    {
        var plates = separation.Plates;
        var sheet = separation.WidthMm * separation.HeightMm / 100;
        return new(
            method.Id,
            method.Name,
            method.Work,
            press,
            plates.Count(p => !p.Mesh.IsNone),
            [.. separation.Grounds.Select((g, i) => Ground(g, grams[i]))]
        );

        CostedGround Ground(GroundPlan plan, double gramsHere)
        {
            var runs = plan.Runs.Where(r => r.Runs).ToArray();
            var cut = runs.Select(r => r.Plate).Distinct().Sum(p => areasCm2[p]);
            return new(
                $"{plan.Ground.Garment.Name}, {plan.Ground.Colour.Name}",
                runs.Count(r => !plates[r.Plate].Mesh.IsNone),
                runs.SkipLast(1).Count(r => r.FlashAfter),
                runs.Any(r => plates[r.Plate].Purpose.IsUnderColours),
                gramsHere,
                method.Work.CutsSheets ? cut : sheet
            );
        }
    }

    private static double Grams(Separation separation, PrintMethod method, ScreenRun run, double areaCm2) =>
        method.Press.Grams(
            areaCm2,
            new InkPass(run.Ink, separation.Plates[run.Plate].Mesh, run.Strokes, run.FlashAfter)
        );
}
