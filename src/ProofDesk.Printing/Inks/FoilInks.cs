using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Metals;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// Foils on printed adhesive ([PHYSICS] 1.11). What the screen prints is the adhesive; the foil is pressed on and stays where that is.
/// </summary>
public static class FoilInks
{
    public const string Caution =
        "adhesive is printed, foil is pressed on with heat: a hot press burns and pinches; heat, time, peeling and washing as on the adhesive's and the foil's sheets and by local rules; press a test piece and wash it";

    private const string Source =
        "default of the trade: aluminium by published optical constants under an assumed lacquer, no measurement behind it; press a sample to judge it";

    public static ImmutableArray<Ink> All { get; } =
    [
        Of("silver", "Silver foil", MetalFinish.Clear),
        Of("gold", "Gold foil", MetalFinish.Golden),
        Of("copper", "Copper foil", MetalFinish.Coppery),
        Of("rose", "Rose foil", MetalFinish.Rose),
        Of("bronze", "Bronze foil", MetalFinish.Bronze),
        Of("red", "Red foil", MetalFinish.Red),
        Of("blue", "Blue foil", MetalFinish.Blue),
        Of("green", "Green foil", MetalFinish.Green),
        Of("black", "Black foil", MetalFinish.Black),
    ];

    private static Ink Of(string colour, string name, Spectrum lacquer) =>
        new(
            "foil-" + colour,
            name,
            InkKind.Foil,
            InkRole.Colour,
            // Never a Kubelka-Munk film: FoilAction lays the metal on top.
            Spectrum.Flat(1e-6),
            Spectrum.Flat(1e-6),
            OpticalConvention.Film,
            0.98,
            1.15,
            1,
            DataClass.C,
            Source
        )
        {
            Finish = new(Metal.Aluminium, lacquer, 0),
            Caution = Caution,
        };
}
