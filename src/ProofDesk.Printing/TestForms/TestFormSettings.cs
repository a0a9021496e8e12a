using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Screening;

namespace ProofDesk.Printing.TestForms;

/// <summary>Which cloth the form is read on: it decides what can be seen and so which marks the others are held against.</summary>
public enum FormCloth
{
    /// <summary>White shows: everything is read against the white plate, colours on its base.</summary>
    Dark,

    /// <summary>Colours show, on the cloth and on a base; white does not.</summary>
    Pale,
}

/// <summary>What lies under a block of the form.</summary>
public enum FormUnder
{
    Cloth,
    Base,
}

public enum FormCorner
{
    TopLeft,
    TopRight,
    BottomLeft,
    BottomRight,
}

/// <summary>What the shop chooses about the form: one mesh on all its screens, the inks that run on them.</summary>
/// <param name="Mesh">All screens of this form; another mesh is another set of films.</param>
/// <param name="White">First screen, flashed.</param>
/// <param name="Colours">1 to 6 inks, in print order after the white.</param>
public sealed record TestFormSettings(Mesh Mesh, Ink White, ImmutableArray<Ink> Colours, FormCloth Cloth)
{
    public const int MostColours = 6;

    public OutputDevice Device { get; init; } = OutputDevice.Fallback;

    /// <summary>Ruling of the wedges; null = the usual one of the mesh, 55 at most.</summary>
    public double? LinesPerInch { get; init; }

    public double Ruling => LinesPerInch ?? Math.Min(55, Screen.UsualLinesPerInch(Mesh.ThreadsPerInch));

    /// <summary>All inks in print order, white first.</summary>
    public ImmutableArray<Ink> Inks => [White, .. Colours];

    /// <summary>
    /// The screen the others' register is read against: white where it shows, else the colour that is darkest by itself.
    /// </summary>
    public int ReferencePlate =>
        Cloth == FormCloth.Dark ? 0 : 1 + Enumerable.Range(0, Colours.Length).MinBy(i => InkShade.Of(Colours[i]));

    /// <summary>Blocks that can be seen on this cloth, top to bottom: ink and what lies under it.</summary>
    public ImmutableArray<(int Plate, FormUnder Under)> Blocks =>
        Cloth == FormCloth.Dark
            ? [(0, FormUnder.Cloth), .. Each(FormUnder.Base)]
            : [.. Each(FormUnder.Cloth), .. Each(FormUnder.Base)];

    /// <summary>Screens whose register can be read.</summary>
    public ImmutableArray<int> RegisteredPlates =>
        [.. Enumerable.Range(1, Colours.Length).Where(plate => plate != ReferencePlate)];

    /// <summary>White shows on cloth darker than L* 60: there is contrast enough to read an edge.</summary>
    public static FormCloth ClothOf(Ground ground) =>
        CieLab.FromXyz(Tristimulus.Of(Brightener.Radiance(ground.Colour), ViewingLight.D50), ViewingLight.D50).L >= 60
            ? FormCloth.Pale
            : FormCloth.Dark;

    /// <exception cref="ArgumentException">The form cannot be drawn so; the message is for the person who asked.</exception>
    public void Check()
    {
        if (Colours.Length is < 1 or > MostColours)
            throw new ArgumentException($"a test form carries 1 to {MostColours} colours; {Colours.Length} given");
        if (White.Role != InkRole.White)
            throw new ArgumentException($"the first screen of a test form is a white; '{White.Id}' is not");
        if (Colours.FirstOrDefault(ink => ink.Role == InkRole.White) is { } white)
            throw new ArgumentException($"'{white.Id}' is a white: it runs first and is not listed among the colours");
        if (Colours.GroupBy(ink => ink.Id).FirstOrDefault(g => g.Count() > 1) is { } twice)
            throw new ArgumentException($"'{twice.Key}' is named twice");
        if (Device.HandOver != HandOver.DotsOurs)
            throw new ArgumentException(
                $"device \"{Device.Name}\" makes its own dots; the form needs dots and edges where they were drawn, on a film of known resolution"
            );
    }

    private IEnumerable<(int, FormUnder)> Each(FormUnder under) =>
        Enumerable.Range(1, Colours.Length).Select(plate => (plate, under));
}
