using System.Collections.Immutable;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations.Layers;

namespace ProofDesk.Printing.Separations;

/// <summary>What kind of press the screens go on: sets choke, trap, the finest ruling and the number of heads.</summary>
public enum PressClass
{
    Automatic,
    Manual,
}

/// <summary>What goes under the colours.</summary>
public enum BaseChoice
{
    /// <summary>White where the forward model says a colour needs it.</summary>
    Auto,

    /// <summary>White under every colour, on every ground.</summary>
    White,

    /// <summary>Discharge base under every colour but near-black, where the method has one; elsewhere a finding refuses it.</summary>
    Discharge,

    /// <summary>No base.</summary>
    None,
}

/// <summary>What happens to tones whose dots the mesh does not hold.</summary>
public enum WeakTones
{
    /// <summary>They are left out: the fade ends a little early, cleanly.</summary>
    Cut,

    /// <summary>They are lifted to the smallest dot that holds.</summary>
    Hold,
}

/// <summary>What becomes of flat colours with crisp edges (lettering, a logo) in art that is painted otherwise.</summary>
public enum FlatAreas
{
    /// <summary>Each prints solid in an ink of its own, without dots.</summary>
    Solid,

    /// <summary>They are toned like the rest.</summary>
    Toned,
}

/// <summary>
/// Which inks print the art: as many as the art has, exactly so many, or a given list.
/// </summary>
/// <param name="Count">Exactly so many colours; null = as many as the art has.</param>
/// <param name="Inks">Only these inks; empty = chosen for the art's colours.</param>
/// <param name="ExactColours">Colours "#rrggbb" to mix to match beside the listed inks: an ink of assumed spectrum each.</param>
public sealed record InkChoice(int? Count, ImmutableArray<Ink> Inks, ImmutableArray<string> ExactColours)
{
    /// <summary>As many as the art has, chosen for its colours.</summary>
    public static InkChoice Automatic { get; } = new(null, [], []);

    /// <summary>Exactly so many.</summary>
    public static InkChoice Exactly(int count) => new(count, [], []);

    /// <summary>These inks and no others.</summary>
    public static InkChoice Of(params IEnumerable<Ink> inks) => new(null, [.. inks], []);
}

/// <summary>How dots carry a tone of painted art.</summary>
public enum DotPlacement
{
    /// <summary>Dots on a lattice grow with the tone (amplitude modulated).</summary>
    Lattice,

    /// <summary>Dots of one size, more of them for more tone (frequency modulated, stochastic).</summary>
    Stochastic,
}

/// <summary>
/// Everything the shop may choose about a spot separation; every default is common practice.
/// </summary>
public sealed record SpotSettings
{
    public InkChoice Inks { get; init; } = InkChoice.Automatic;

    public BaseChoice Base { get; init; } = BaseChoice.Auto;

    public PressClass PressClass { get; init; } = PressClass.Automatic;

    /// <summary>The press as the simulator will see it: growth feeds the tone compensation, register the trap.</summary>
    public PressSettings Press { get; init; } = PressSettings.Automatic;

    /// <summary>Mesh of the base; null = by purpose.</summary>
    public Mesh? BaseMesh { get; init; }

    /// <summary>Mesh of the colours; null = by purpose.</summary>
    public Mesh? ColourMesh { get; init; }

    /// <summary>Ruling of all tones; null = from the mesh, capped by the press class.</summary>
    public double? LinesPerInch { get; init; }

    /// <summary>Angle of all tones; of cyan in four-colour process, whose other plates keep their distance from it.</summary>
    public double AngleDegrees { get; init; } = 22.5;

    /// <summary>Dots of simulated and four-colour process.</summary>
    [LaterSetting]
    public DotPlacement Dots { get; init; }

    /// <summary>Size of stochastic dots, um; null = what the mesh holds for sure, 2 d + w.</summary>
    [LaterSetting]
    public double? StochasticDotUm { get; init; }

    /// <summary>
    /// The base is printed, flashed and printed again from the same screen: two runs of one plate on the ground's sheet.
    /// One pass of white on black is grey (L* 76-84); a finding says what the second buys.
    /// </summary>
    public bool PrintFlashPrint { get; init; }

    /// <summary>
    /// A low-bleed grey is the first plate, under the white, on grounds whose polyester is dyed with dye that wanders into the ink.
    /// </summary>
    public bool BlockingBase { get; init; }

    /// <summary>Strokes of each base pass on the wet screen.</summary>
    public int BaseStrokes { get; init; } = 1;

    /// <summary>An extra white screen over the art's white, printed last.</summary>
    public bool HighlightWhite { get; init; }

    /// <summary>Per art colour ("#rrggbb", nearest palette colour): true lets the cloth show, false prints it. Others follow the default.</summary>
    public ImmutableDictionary<string, bool> ClothShows { get; init; } = ImmutableDictionary<string, bool>.Empty;

    /// <summary>What happens to art whose maker kept the inks apart.</summary>
    [LaterSetting]
    public LayerChoice Layers { get; init; }

    /// <summary>The print lies on another one: no colour is left to the cloth by default.</summary>
    internal bool IsOnPrint { get; init; }

    /// <summary>A colour that any ground needs is printed on all of them.</summary>
    internal bool IsAlikeOnAllGrounds { get; init; }

    public WeakTones WeakTones { get; init; } = WeakTones.Cut;

    /// <summary>Flat colours in painted art; methods for flat art do not see it.</summary>
    [LaterSetting]
    public FlatAreas FlatAreas { get; init; }

    /// <summary>Heads (stations) of the press; null = 10 automatic, 6 manual.</summary>
    public int? Heads { get; init; }

    /// <summary>Flash units; null = 2 automatic, 1 manual.</summary>
    public int? Flashes { get; init; }

    /// <summary>The largest print of the press, width and height.</summary>
    public double LargestWidthMm { get; init; } = 380;

    public double LargestHeightMm { get; init; } = 480;

    /// <summary>How far the base stays inside the colour above it, mm: .15 automatic, .3 manual.</summary>
    public double ChokeMm => PressClass == PressClass.Automatic ? 0.15 : 0.3;

    /// <summary>How far a lighter ink runs under a darker neighbour, mm: register sigma x 2.5 + .05 (physics 3.4).</summary>
    public double TrapMm =>
        2.5
            * Math.Sqrt(
                Press.SetUpSigmaMm * Press.SetUpSigmaMm
                    + Press.PalletSigmaMm * Press.PalletSigmaMm
                    + Press.JitterSigmaMm * Press.JitterSigmaMm
            )
        + 0.05;

    /// <summary>Finest ruling: 55 automatic, 45 manual.</summary>
    public double FinestLinesPerInch => PressClass == PressClass.Automatic ? 55 : 45;

    public int HeadCount => Heads ?? (PressClass == PressClass.Automatic ? 10 : 6);
}
