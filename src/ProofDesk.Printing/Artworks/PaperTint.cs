using ProofDesk.Imaging.Colour;
using static ProofDesk.Printing.Artworks.ArtChecks;

namespace ProofDesk.Printing.Artworks;

/// <summary>Scanned paper is nearly white and never quite one colour. Printed, it is a veil of dots over the whole rectangle.</summary>
internal static class PaperTint
{
    private const double Palest = 80;
    private const double LeastChroma = 2;
    private const double MostChroma = 20;

    /// <summary>Standard deviation along the border, codes: a drawn background has none.</summary>
    private const double Wanders = 1.5;

    public static Finding? Of(Background background)
    {
        var lab = Srgb.ToLab(Srgb.Decode(background.R / 255, background.G / 255, background.B / 255));
        if (lab.L < Palest || lab.Chroma < LeastChroma || lab.Chroma > MostChroma || background.Wander < Wanders)
            return null;
        return new(
            "paper-tint",
            FindingWeight.Warning,
            Text(
                $"the background {background.Hex} looks like scanned paper: nearly white, and wandering by {background.Wander:0.0} codes; printed it is a veil of dots over the whole rectangle"
            ),
            "drop the background, or set the white point of the scan so that the paper becomes #ffffff",
            Math.Round(background.Wander, 1),
            Wanders,
            "codes"
        );
    }
}
