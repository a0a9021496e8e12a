using System.Collections.Immutable;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// How one method brings its plates onto the cloth. As it stands it is the screen print; a method overrides what is
/// different about it.
/// </summary>
public class MethodPress
{
    /// <summary>Screens on a carousel press.</summary>
    public static MethodPress Screens { get; } = new();

    /// <summary>The shop's press as this method runs it: its own register, growth, spread of thickness.</summary>
    public virtual PressSettings Settings(PressSettings shop) => shop;

    /// <summary>The same for one plate, where plates of two methods print on each other. <paramref name="press"/> has been through <see cref="Settings"/>.</summary>
    public virtual PressSettings PlateSettings(PressSettings press, Separation separation, int plate) => press;

    /// <summary>How an ink acts, or null when it is a further layer of film or pigment.</summary>
    public virtual InkAction? ActionOf(Ink ink) => InkActions.Of(ink.Kind);

    /// <summary>The colours its passes can leave on a ground. <paramref name="press"/> has been through <see cref="Settings"/>.</summary>
    public virtual InkedCloth On(Ground ground, ImmutableArray<InkPass> passes, PressSettings press, Deposit deposit) =>
        new ClothColour(ground, passes, press, deposit, ActionOf);

    /// <summary>
    /// What of a film can reach the cloth: under a seam or in a crease nothing does. The same size; read from several
    /// threads at once.
    /// </summary>
    public virtual Film Reaching(Film film, Films films, GroundPlan plan, Deposit deposit, ulong seed) => film;

    /// <summary>How far what lies side by side mixes in the bare cloth, um: light, and whatever else spreads.</summary>
    public virtual double SidewaysUm(Ground ground) => OpticalGain.ClothLengthUm(ground);

    /// <summary>Plates with the same number move together (heads of one carriage); null lies exactly where it should.</summary>
    public virtual int? RegisterOf(Separation separation, int plate) => plate;

    /// <summary>Screens run on a carrier that is turned over onto the cloth: the first lies on top.</summary>
    public virtual bool LastLiesLowest => false;

    /// <summary>
    /// Roughness of prints that mirror (alpha of GGX), or null when nothing of this method does: then pictures show the studio
    /// in them, <see cref="StudioMirror"/>.
    /// </summary>
    public virtual double? MirrorRoughness => null;

    /// <summary>
    /// Light and shade of the stitches on printed places, relative: how much of the knit's relief a print takes over (a drawing
    /// choice).
    /// </summary>
    public virtual float ShadeOfInk => 0.05f;

    /// <summary>Dry film of one pass above the cloth, um; what sinks in is not felt.</summary>
    public virtual double FilmAboveClothUm(InkPass pass, PressSettings press)
    {
        var um = DepositModel.FilmUm(pass.Mesh, pass.Ink, press, pass.Strokes, false, Deposit.Expected);
        return pass.Ink.Kind switch
        {
            InkKind.Plastisol or InkKind.Metallic => um * (1 - press.WickedShare),
            InkKind.Dye => 0,
            _ => um * pass.Ink.SurfaceShare,
        };
    }

    /// <summary>
    /// Wet ink of one pass on its area, g: area x open area x fabric thickness x density, the weavers' theoretical
    /// volume ([PHYSICS] 1.5), with what further strokes on the same wet screen add.
    /// </summary>
    public virtual double Grams(double areaCm2, InkPass pass) =>
        areaCm2
        / 10_000
        * pass.Mesh.TheoreticalInkVolume
        * pass.Ink.DensityGramsPerCm3
        * (1 + DepositModel.ExtraStroke * (pass.Strokes - 1));
}

/// <summary>The kinds of ink that do more than lie on the cloth or in it.</summary>
public static class InkActions
{
    public static InkAction? Of(InkKind kind) =>
        kind switch
        {
            InkKind.Sheet => SheetAction.Instance,
            InkKind.Discharge => DischargeAction.Instance,
            InkKind.Dye => DyeAction.Usual,
            InkKind.Metallic => MetallicAction.Instance,
            InkKind.Foil => FoilAction.Instance,
            _ => null,
        };
}
