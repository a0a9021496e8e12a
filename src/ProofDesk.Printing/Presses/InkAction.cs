using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// What lies at one place of the print so far: the cloth as earlier passes left it (or an opaque surface on it), and the
/// layers of ink on and in it, bottom up.
/// </summary>
/// <param name="IsSealed">Something keeps later ink out of the cloth.</param>
public sealed record PrintedStack(Ground Ground, ImmutableArray<PrintedLayer> Layers, bool IsSealed)
{
    /// <summary>The cloth before the first pass.</summary>
    public Ground Unprinted { get; init; } = Ground;

    /// <summary>Wet discharge ink that has reached the cloth so far, cm3/m2: what a later pass adds to.</summary>
    public double DischargeCm3PerM2 { get; init; }

    /// <summary>Dye that went into the cloth's polyester so far, and the cloth before it: amounts add in K/S, cloths do not.</summary>
    public (Ground Cloth, Spectrum Ks)? Dyed { get; init; }

    /// <summary>What mirrors here: reflectance x share of the area that mirrors; null = nothing does.</summary>
    public Spectrum? Mirror { get; init; }

    /// <summary>Unprinted cloth.</summary>
    public static PrintedStack Bare(Ground ground) => new(ground, [], false);

    /// <summary>Total radiance factor seen from above.</summary>
    public Spectrum Reflectance(ClothPoint point) => InkOnCloth.Reflectance(Ground, Layers, point);

    /// <summary>One more layer of film or pigment; over metal it takes the mirror away.</summary>
    public PrintedStack With(PrintedLayer layer) =>
        this with
        {
            Mirror = layer.FilmUm > 0 ? null : Mirror,
            Layers = Layers.Add(layer),
            IsSealed = IsSealed || layer.Ink.Kind is InkKind.Plastisol or InkKind.HighSolidsWaterBased,
        };

    /// <summary>The cloth itself changed (dye went out or in); what lies on it stays.</summary>
    public PrintedStack OnCloth(Spectrum reflectance) => this with { Ground = Painted(reflectance), Dyed = null };

    /// <summary>A surface that hides what is below, of this reflectance: later ink lies on it.</summary>
    public PrintedStack Hidden(Spectrum reflectance) => new(Painted(reflectance), [], true);

    private Ground Painted(Spectrum reflectance) =>
        Ground with
        {
            Colour = Ground.Colour with { Reflectance = reflectance, BrightenerPeak = 0, HeatherFleck = null },
        };
}

/// <summary>Where, with which screen and at which end of the range an ink acts.</summary>
/// <param name="Layer">What the deposit model says this pass leaves here.</param>
public readonly record struct InkPlace(
    InkPass Pass,
    PrintedLayer Layer,
    ClothPoint Point,
    PressSettings Press,
    Deposit Deposit
);

/// <summary>
/// How a kind of ink acts that is more than one further layer of film or pigment: it takes dye out of the cloth, puts
/// dye in, mirrors, or hides everything below. Passes act one after the other in print order, so combinations of kinds are
/// stacks, not special cases.
/// </summary>
public abstract class InkAction
{
    /// <summary>No fibre stands through it.</summary>
    public virtual bool CoversFibres => false;

    /// <summary>The place after this pass.</summary>
    public abstract PrintedStack Print(PrintedStack below, InkPlace at);
}
