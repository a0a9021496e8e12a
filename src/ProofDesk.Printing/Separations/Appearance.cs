using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Separations;

/// <summary>How solids look by the forward model, and whether they need white under them.</summary>
internal sealed class Appearance(MethodPress method, PressSettings press, InkPass baseWhite, bool printFlashPrint)
{
    /// <summary>White is worth a screen from this gain in CIEDE2000 on: what a client sees side by side without looking for it.</summary>
    public const double WorthABase = 2.5;

    /// <summary>White is worth its ink from this gain on, once the screen is there for another colour.</summary>
    public const double WorthInk = 1;

    public Lab Cloth(Ground ground) => Lab(ground, []);

    /// <summary>The base alone.</summary>
    public Lab White(Ground ground) => Lab(ground, Base());

    public Lab Of(Ground ground, Ink ink, Mesh mesh, bool onBase) =>
        Lab(ground, onBase ? [.. Base(), new(ink, mesh, 1, false)] : [new(ink, mesh, 1, false)]);

    /// <summary>Inks on each other, the first lowest.</summary>
    public Lab Over(Ground ground, ImmutableArray<Ink> inks, Mesh mesh, bool onBase) =>
        Lab(ground, [.. onBase ? Base() : [], .. inks.Select(ink => new InkPass(ink, mesh, 1, false))]);

    /// <summary>How much nearer to the wanted colour the ink comes with white under it, CIEDE2000.</summary>
    public double GainOfBase(Ground ground, Ink ink, Mesh mesh, Lab wanted) =>
        Ciede2000.Difference(Of(ground, ink, mesh, false), wanted)
        - Ciede2000.Difference(Of(ground, ink, mesh, true), wanted);

    public InkPass BaseWhite => baseWhite;

    /// <summary>Base and white on one screen are possible; a discharge base leaves nothing white.</summary>
    public bool BaseIsWhite => baseWhite.Ink.Kind != InkKind.Discharge || baseWhite.Ink.Role == InkRole.White;

    private ImmutableArray<InkPass> Base() => printFlashPrint ? [baseWhite, baseWhite] : [baseWhite];

    private Lab Lab(Ground ground, ImmutableArray<InkPass> passes) =>
        method
            .On(ground, passes, method.Settings(press), Deposit.Expected)
            .SolidLab((1UL << passes.Length) - 1, ViewingLight.D50);
}
