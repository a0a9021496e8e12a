using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Separations;

/// <summary>Plain words for colours, to name plates by: "Golden yellow", "Navy", "Light grey". Two words at most.</summary>
internal static class ColourNames
{
    /// <summary>The first row that holds names the colour: hue up to To (degrees in CIELAB), lightness and chroma below their limits.</summary>
    private static readonly (double To, double L, double Chroma, string Name)[] Names =
    [
        (20, 30, 999, "Maroon"),
        (20, 68, 999, "Crimson"),
        (20, 101, 999, "Pink"),
        (50, 28, 999, "Maroon"),
        (50, 45, 35, "Brown"),
        (50, 68, 999, "Red"),
        (50, 101, 999, "Salmon"),
        (70, 25, 999, "Dark brown"),
        (70, 46, 999, "Brown"),
        (70, 78, 35, "Tan"),
        (70, 101, 40, "Peach"),
        (70, 101, 999, "Orange"),
        (90, 28, 999, "Dark brown"),
        (90, 48, 999, "Brown"),
        (90, 80, 35, "Tan"),
        (90, 101, 40, "Cream"),
        (90, 66, 999, "Ochre"),
        (90, 101, 999, "Golden yellow"),
        (107, 28, 999, "Dark brown"),
        (107, 52, 999, "Olive"),
        (107, 80, 35, "Khaki"),
        (107, 101, 40, "Cream"),
        (107, 76, 999, "Mustard"),
        (107, 101, 999, "Yellow"),
        (127, 50, 999, "Olive green"),
        (127, 101, 999, "Lime"),
        (165, 32, 999, "Dark green"),
        (165, 72, 28, "Sage"),
        (165, 72, 999, "Green"),
        (165, 101, 999, "Bright green"),
        (215, 32, 999, "Dark teal"),
        (215, 68, 999, "Teal"),
        (215, 101, 999, "Aqua"),
        (262, 26, 999, "Petrol blue"),
        (262, 60, 20, "Slate"),
        (262, 101, 999, "Sky blue"),
        (322, 22, 999, "Navy"),
        (296, 55, 20, "Slate blue"),
        (296, 60, 999, "Blue"),
        (296, 101, 999, "Light blue"),
        (322, 60, 90, "Purple"),
        (322, 60, 999, "Blue"),
        (322, 101, 999, "Lilac"),
        (360, 30, 999, "Plum"),
        (360, 68, 999, "Magenta"),
        (360, 101, 999, "Pink"),
    ];

    public static string Of(Lab lab)
    {
        if (lab.Chroma < 9)
            return lab.L switch
            {
                > 92 => "White",
                > 80 => "Pale grey",
                > 65 => "Light grey",
                > 48 => "Mid grey",
                > 30 => "Dark grey",
                > 18 => "Charcoal",
                _ => "Black",
            };
        var hue = (Math.Atan2(lab.B, lab.A) * 180 / Math.PI + 360) % 360;
        return Names.First(n => hue <= n.To && lab.L < n.L && lab.Chroma < n.Chroma).Name;
    }
}
