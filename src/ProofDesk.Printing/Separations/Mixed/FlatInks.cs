using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Separations.Mixed;

/// <summary>
/// Inks that flat colours ask for before the others are chosen for the picture: from the shelf where one comes near, otherwise
/// mixed to match. White comes from the white screens, black is chosen anyway, a colour of the cloth needs none.
/// </summary>
internal static class FlatInks
{
    /// <summary>Painted art needs so many inks besides.</summary>
    private const int ForThePicture = 3;

    /// <summary>Seven prints with their flashes fill the ten heads of a usual automatic.</summary>
    private const int More = 1;

    /// <summary>Inks to be in the set, the largest area first; at most <paramref name="most"/>.</summary>
    public static ImmutableArray<Ink> Wanted(
        FlatArt flat,
        PrintMethod method,
        ImmutableArray<Ground> grounds,
        SpotSettings settings,
        int most
    )
    {
        var colours = flat
            .Colours.Where(c => !OwnInk(Srgb.ToLab(c.Linear)) && !LeftToCloth(c, grounds, settings))
            .Take(most)
            .Select(c => c.ForPalette)
            .ToImmutableArray();
        if (colours.IsEmpty)
            return [];
        var white = new InkPass(
            method.Rules.BaseInk ?? InkLibrary.BaseWhite(method.ColourInk),
            settings.BaseMesh ?? Meshes.HalftoneBase,
            settings.BaseStrokes,
            true
        );
        // Where white runs it runs under flat colours as well: their inks are matched on it.
        if (Inverse.TonalJobs.WhiteRuns(grounds, settings).Contains(true))
            settings = settings with { Base = BaseChoice.White };
        var appearance = new Appearance(method.Press, settings.Press, white, settings.PrintFlashPrint);
        return
        [
            .. new InkAssignment(method, grounds, settings, appearance, settings.ColourMesh ?? Meshes.FineHalftone)
                .Assign(colours)
                .Where(i => i.Ink.Role == InkRole.Colour)
                .OrderByDescending(i => i.Weight)
                .Select(i => i.Ink),
        ];
    }

    /// <summary>
    /// How many colours may ask: of a given number of inks all but what the picture needs; where the number is free, a few
    /// more than usual.
    /// </summary>
    public static int Most(int colours, bool free) => Math.Max(1, colours - ForThePicture + (free ? More : 0));

    /// <summary>The cloth has this colour on every ground.</summary>
    public static bool LeftToCloth(FlatColour colour, ImmutableArray<Ground> grounds, SpotSettings settings)
    {
        var (palette, wanted) = (colour.ForPalette, Srgb.ToLab(colour.Linear));
        return grounds.All(g => ClothShows.On(palette, wanted, Inverse.TonalJobs.Cloth(g), settings));
    }

    private static bool OwnInk(Lab wanted) => ClothShows.IsWhite(wanted) || ClothShows.IsNearBlack(wanted);
}
