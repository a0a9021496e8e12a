using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Rosters;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Separations.ByHand;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// Everything a proof of one print depends on. Two equal requests give the same bytes; <see cref="Recipe"/> is its
/// digest.
/// </summary>
/// <param name="Art">Decoded art.</param>
/// <param name="Placement">Where on the garment and how wide the inked extent is.</param>
/// <param name="Method">Print method.</param>
/// <param name="Grounds">The set of grounds that shares one plate set; the first is drawn first.</param>
public sealed record ProofRequest(Artwork Art, Placement Placement, PrintMethod Method, ImmutableArray<Ground> Grounds)
{
    /// <summary>A print of the whole side that this one lies on, printed and dried first; its films are its own job.</summary>
    public ProofRequest? Under { get; init; }

    public BackgroundChoice Background { get; init; } = BackgroundChoice.AsGiven;

    /// <summary>Inks, base, ruling, press and the rest of what the shop chooses about the plates.</summary>
    public SpotSettings Spot { get; init; } = new();

    /// <summary>What is changed on the films after they were separated.</summary>
    public HandWork HandWork { get; init; } = HandWork.None;

    public OutputDevice Device { get; init; } = OutputDevice.Fallback;

    /// <summary>How often each screen carries the image.</summary>
    [LaterSetting]
    public ScreenLayout Layout { get; init; } = ScreenLayout.One;

    /// <summary>The press the plates were made for is the press that prints them.</summary>
    public PressSettings Press => Spot.Press;
    public ViewingLight Light { get; init; } = ViewingLight.D65;
    public ulong Seed { get; init; } = 1;

    /// <summary>Prints of the run: decides grams to mix.</summary>
    public int Quantity { get; init; } = 100;

    /// <summary>Size group the print belongs to, e.g. "adult".</summary>
    public string SizeGroup { get; init; } = "adult";

    /// <summary>Sizes of the order that carry the print; empty = every size the garment comes in.</summary>
    public ImmutableArray<string> Sizes { get; init; } = [];

    /// <summary>Size the worn picture shows.</summary>
    public string GarmentSize { get; init; } = "L";

    /// <summary>Resolution of the worn picture, 0.5 to 10 pixels a mm; null = as usual.</summary>
    [LaterSetting]
    public double? GarmentPixelsPerMm { get; init; }

    /// <summary>Names and numbers besides the print.</summary>
    public Roster? Roster { get; init; }

    /// <summary>Draws the light and the heavy end beside the expected print.</summary>
    public bool WithRange { get; init; }

    /// <summary>Draws the print after each running screen too.</summary>
    public bool HeadByHead { get; init; }
}
