using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Separations.ByHand;

/// <summary>Hand work that cannot be done on this plate, in words.</summary>
internal static class HandWorkRefusals
{
    /// <summary>A warning, not a refusal: art of the next version may need a plate less.</summary>
    public static Finding NoPlate(PlateEdit edit, Separation separation)
    {
        var names = separation.Plates.Select(p => p.Name).ToArray();
        return new(
            "by-hand-no-plate",
            FindingWeight.Warning,
            $"the hand work on '{edit.Plate}' is left out: the plates are {string.Join(", ", names)}{NearestName.Guess(edit.Plate, names)}",
            "give it the name of a plate, or take it out"
        );
    }

    public static IEnumerable<Finding> Of(PlateEdit edit, Plate plate)
    {
        foreach (var problem in PlateEditChecks.Of(edit))
            yield return new(
                "by-hand-not-possible",
                FindingWeight.Refusal,
                $"\"{plate.Name}\" cannot be changed by hand like that: {problem.What}",
                "correct the number"
            );
        if (plate.Mesh.IsNone)
            yield return new(
                "by-hand-no-film",
                FindingWeight.Refusal,
                $"\"{plate.Name}\" cannot be changed by hand: {Why(plate)}, no film is made of it",
                "take the hand work out, and change the art or the settings of the print"
            );
        else if (!edit.KeepOut.IsDefaultOrEmpty && !plate.Purpose.IsUnderColours)
            yield return new(
                "by-hand-keep-out-colour",
                FindingWeight.Refusal,
                $"rectangles keep a base out, \"{plate.Name}\" is a {InkListMaker.PurposeName(plate.Purpose)} and would leave a hole in the print",
                "put them on the base, or change the art where the colour should not print"
            );
    }

    private static string Why(Plate plate) =>
        plate.Ink.Kind switch
        {
            InkKind.Sheet => "it is cut from a sheet",
            InkKind.Dye => "its dye is printed on paper by a machine",
            _ => "its ink is jetted",
        };
}
