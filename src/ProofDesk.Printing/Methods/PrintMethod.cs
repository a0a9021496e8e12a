using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Costs;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.Choices;

namespace ProofDesk.Printing.Methods;

/// <summary>From art to the plates of one method, for a set of grounds.</summary>
public delegate Separation Separator(
    SizedArt art,
    PrintMethod method,
    ImmutableArray<Ground> grounds,
    SpotSettings settings
);

/// <summary>What a method hands over besides films and ink list: print files, cut paths, panels.</summary>
public delegate ImmutableArray<ProductionFile> ProductionFiles(Proof proof);

/// <summary>A way of printing, as the command line and the order name it.</summary>
/// <param name="Id">Identifier, e.g. "plastisol".</param>
/// <param name="Name">Name shown to people.</param>
/// <param name="ColourInk">Kind of the colours.</param>
/// <param name="BaseInk">Kind of the white base.</param>
/// <param name="Caution">The usual caution, deferring to the supplier's sheet.</param>
public sealed record PrintMethod(
    string Id,
    string Name,
    InkKind ColourInk,
    InkKind BaseInk,
    string Summary,
    string Caution
)
{
    /// <summary>Art to plates.</summary>
    public Separator Separate { get; init; } = SpotSeparator.Separate;

    /// <summary>What spot separation may do for this method.</summary>
    public SpotRules Rules { get; init; } = new();

    /// <summary>What the shop may say about its inks.</summary>
    public InkFreedom InkFreedom { get; init; } = InkFreedom.Chosen;

    /// <summary>Plates to cloth.</summary>
    public MethodPress Press { get; init; } = MethodPress.Screens;

    /// <summary>What the shop gets besides films and ink list.</summary>
    public ProductionFiles Production { get; init; } = _ => [];

    /// <summary>What it takes besides screens, for the cost of a run.</summary>
    public MethodWork Work { get; init; } = MethodWork.Screens;

    /// <summary>How it covers a whole side of a garment; null = it prints where the print was placed, and no further.</summary>
    public AllOverRule? AllOver { get; init; }

    /// <summary>The device that makes this method's dots, given the shop's film recorder.</summary>
    public Func<OutputDevice, OutputDevice> Device { get; init; } = device => device;

    /// <summary>Films, print files and cut paths are reversed left to right: the print is turned over onto the cloth.</summary>
    public bool Reversed { get; init; }
}

/// <summary>How a method covers a whole side of a garment.</summary>
/// <param name="BleedMm">How far past the outline the print must run.</param>
/// <param name="Always">It does nothing else; otherwise only at an all-over place.</param>
/// <param name="Why">Why so far, for the finding.</param>
public sealed record AllOverRule(double BleedMm, bool Always, string Why);
