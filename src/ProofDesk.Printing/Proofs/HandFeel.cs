using System.Collections.Immutable;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// What a hand notices of a print: how thick the film on the cloth is where inks lie on each other, and how much dry ink the
/// whole print adds.
/// </summary>
/// <param name="ThickestUm">Dry film above the cloth where the bases and the thickest colour meet, um.</param>
/// <param name="DryGrams">Dry ink of one print, g.</param>
/// <param name="Words">For people.</param>
public sealed record HandFeel(double ThickestUm, double DryGrams, string Words)
{
    // Where a film begins to be felt is common practice, no published source: nobody measures it.
    private static readonly (double BelowUm, string Words)[] Steps =
    [
        (2, "hardly felt: it is in the cloth, not on it"),
        (12, "a soft hand"),
        (30, "a light film one can feel"),
        (60, "a film one feels clearly"),
        (120, "a thick film; stiff over large areas"),
        (double.PositiveInfinity, "a sheet one feels as a layer of its own"),
    ];

    public static HandFeel Of(
        Separation separation,
        GroundPlan plan,
        ImmutableArray<FilmMeasure> measures,
        PressSettings shop
    )
    {
        var press = separation.Press.Settings(shop);
        double bases = 0,
            colour = 0,
            grams = 0;
        foreach (var run in plan.Runs.Where(r => r.Runs))
        {
            var plate = separation.Plates[run.Plate];
            var pass = new InkPass(run.Ink, plate.Mesh, run.Strokes, run.FlashAfter);
            var um = separation.Press.FilmAboveClothUm(pass, press);
            if (plate.Purpose.IsUnderColours)
                bases += um;
            else
                colour = Math.Max(colour, um);
            grams += separation.Press.Grams(measures[run.Plate].AreaCm2, pass) * press.Transfer * run.Ink.VolumeSolids;
        }
        if (separation.SheetsStacked > 0)
            return new(colour * separation.SheetsStacked, grams, "a sheet one can feel, edge and all");
        var thickest = bases + colour;
        return new(thickest, grams, Steps.First(s => thickest < s.BelowUm).Words);
    }
}
