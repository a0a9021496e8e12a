using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Tests.Presses;

/// <summary>Small makers for optics tests: a tee in one colour, an even film, a Lab.</summary>
internal static class Cloths
{
    internal static Ground White { get; } = Of(ClothSpectra.UndyedCotton());
    internal static Ground Black { get; } = Of(ClothSpectra.FromLab(new(17, 0.5, -1)));
    internal static Ground Red { get; } = Of(ClothSpectra.FromLab(new(42, 55, 30)));
    internal static Ground Royal { get; } = Of(ClothSpectra.FromLab(new(33, 15, -45)));

    internal static Ground Brightened(double peak) => Of(ClothSpectra.UndyedCotton(), peak);

    internal static Ground Of(Spectrum reflectance, double brightenerPeak = 0) =>
        new(
            new("tee", "Tee", new Knit(0.8, 0.55, 0.5, 0.006), [], [], ""),
            new("colour", "Colour", reflectance, [], brightenerPeak, null, DataClass.C, "made for a test")
        );

    internal static Ink Ink(string id) => InkLibrary.Find(id) ?? throw new ArgumentException($"no ink {id}");

    internal static Mesh Mesh(string label) => Meshes.Find(label) ?? throw new ArgumentException($"no mesh {label}");

    internal static PrintedLayer Film(string ink, double um) => PrintedLayer.Film(Ink(ink), um);

    /// <summary>Water-based as [PHYSICS] 4 tabulates it: 5 um of pigment-equivalent film, nine tenths inside the cloth.</summary>
    internal static PrintedLayer InCloth(double load, Pigment pigment)
    {
        var (k, s) = InkMix.InCloth([(load, pigment)]);
        return new(Ink("wb-red") with { AbsorptionPerUm = k, ScatteringPerUm = s }, 5, ThicknessSpread.Even, 0.9);
    }

    internal static Lab Printed(Ground ground, params PrintedLayer[] layersBottomUp) =>
        LabOf(InkOnCloth.Reflectance(ground, layersBottomUp, new(0, false)));

    internal static Lab LabOf(Spectrum spectrum) =>
        CieLab.FromXyz(Tristimulus.Of(spectrum, ViewingLight.D50), ViewingLight.D50);

    internal static Lab LabOf(Ground ground) => LabOf(Brightener.Radiance(ground.Colour));

    internal static Lab SolidOf(Ground ground, Deposit deposit, params InkPass[] passes) =>
        LabOf(Solid.Colour(ground, passes, PressSettings.Automatic, deposit));

    internal static void Near(Lab expected, Lab actual, double tolerance) =>
        Assert.True(
            Math.Abs(expected.L - actual.L) <= tolerance
                && Math.Abs(expected.A - actual.A) <= tolerance
                && Math.Abs(expected.B - actual.B) <= tolerance,
            $"expected {expected.L:0.0} {expected.A:0.0} {expected.B:0.0} within {tolerance}, got {actual.L:0.0} {actual.A:0.0} {actual.B:0.0}"
        );
}
