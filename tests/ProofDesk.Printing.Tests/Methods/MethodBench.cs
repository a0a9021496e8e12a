using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;
using ProofDesk.Printing.Presses;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;
using ProofDesk.Printing.Tests.Presses;
using ProofDesk.Printing.Tests.Separations;

namespace ProofDesk.Printing.Tests.Methods;

/// <summary>A method from art to the flat picture, as a proof does it, on cloths whose dyes are known.</summary>
internal static class MethodBench
{
    /// <summary>One colour, 40 mm wide: two repeats of the knit, so that what is left of the mottle does not matter.</summary>
    public static SizedArt Patch(string hex) => new TestArt(480, 480).Rectangle(hex, 0, 0, 480, 480).Sized(40);

    public static Separation Separate(string method, SizedArt art, SpotSettings settings, params Ground[] grounds)
    {
        var found = PrintMethods.Find(method)!;
        return found.Separate(art, found, [.. grounds], settings) with { Press = found.Press };
    }

    public static PrintedCloth Print(this Separation separation, int ground = 0, Deposit deposit = Deposit.Expected) =>
        PrintSimulator.Print(
            FilmMaker.Screen(separation, OutputDevice.Fallback),
            separation.Grounds[ground],
            PressBench.Still,
            deposit,
            ViewingLight.D50,
            1
        );

    /// <summary>Lab D50 of the middle of the patch, measured from the picture's pixels.</summary>
    public static Lab Solid(this PrintedCloth cloth) => cloth.MeanLab(2, 2, 38, 38);

    public static SpotSettings With(params Ink[] inks) => new() { Inks = InkChoice.Of(inks) };

    public static Ink Ink(string id) => InkLibrary.Find(id) ?? throw new ArgumentException($"no ink {id}");

    /// <summary>A tee dyed with these; "azo-reactive-red" and strength, and what discharge leaves when not the usual share.</summary>
    public static Ground Tee(
        string name,
        Spectrum reflectance,
        double cotton,
        params (string Dye, double Strength, double? Left)[] dyes
    )
    {
        ImmutableArray<FibreShare> fibres =
            cotton == 1 ? [new(FibreKind.Cotton, 1)]
            : cotton == 0 ? [new(FibreKind.Polyester, 1)]
            : [new(FibreKind.Cotton, cotton), new(FibreKind.Polyester, 1 - cotton)];
        var colour = new GarmentColour(
            name.ToLowerInvariant(),
            name,
            reflectance,
            fibres,
            0,
            null,
            DataClass.C,
            "made for a test"
        )
        {
            Dyes =
            [
                .. dyes.Select(d =>
                {
                    var kind = DyeKind.Find(d.Dye)!;
                    return new DyeShare(kind, d.Strength, d.Left ?? kind.ResidualShare);
                }),
            ],
        };
        return new(new("tee", "Tee", new Knit(0.78, 0.58, 0.55, 0.006), [], [colour], ""), colour);
    }

    public static Ground White { get; } = Tee("White", ClothSpectra.UndyedCotton(), 1);

    public static Ground Black { get; } =
        Tee("Black", ClothSpectra.FromLab(new(16.5, 0.3, -1.2)), 1, ("vinyl-sulphone-black", 1, null));

    public static Ground Red { get; } =
        Tee("Red", ClothSpectra.FromLab(new(38, 55, 30)), 1, ("azo-reactive-red", 1, null));
}
