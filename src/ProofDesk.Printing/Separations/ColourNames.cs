using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Separations;

/// <summary>Plain words for colours, to name plates by: "Red", "Dark blue", "Pale grey".</summary>
internal static class ColourNames
{
    // Upper ends of hue ranges in CIELAB, degrees.
    private static readonly (double To, string Name)[] Hues =
    [
        (20, "pink red"),
        (48, "red"),
        (72, "orange"),
        (102, "yellow"),
        (130, "lime"),
        (180, "green"),
        (225, "turquoise"),
        (265, "sky blue"),
        (312, "blue"),
        (335, "violet"),
        (360, "pink"),
    ];

    public static string Of(Lab lab)
    {
        if (lab.Chroma < 9)
            return lab.L switch
            {
                > 92 => "White",
                > 75 => "Pale grey",
                > 45 => "Grey",
                > 22 => "Dark grey",
                _ => "Black",
            };
        var hue = (Math.Atan2(lab.B, lab.A) * 180 / Math.PI + 360) % 360;
        var name = Hues.First(h => hue <= h.To).Name;
        // Dark orange is what everybody calls brown.
        if (name is "orange" or "red" && lab.L < 45 && lab.Chroma < 50)
            name = "brown";
        var tone =
            lab.L < 28 ? "dark "
            : lab.L > 84 && lab.Chroma < 50 ? "pale "
            : "";
        var words = tone + name;
        return char.ToUpperInvariant(words[0]) + words[1..];
    }
}
