using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Inks;

/// <summary>
/// How an ink looks where everybody knows it: endlessly thick, and one pass of the usual mesh on a white and a black cotton tee.
/// Lab D50.
/// </summary>
public sealed record InkSwatch(Lab Masstone, Lab OnWhite, Lab OnBlack)
{
    private static readonly Knit Jersey = new(0.8, 0.55, 0.5, 0.006);

    /// <summary>A bleached cotton tee without brightener.</summary>
    public static Ground WhiteCloth { get; } = Cloth("white", ClothSpectra.UndyedCotton());

    /// <summary>A black cotton tee, L* 17.</summary>
    public static Ground BlackCloth { get; } = Cloth("black", ClothSpectra.FromLab(new(17, 0.5, -1)));

    public static InkSwatch Of(Ink ink) =>
        new(
            LabOf(
                Spectrum.Combine(
                    ink.AbsorptionPerUm,
                    ink.ScatteringPerUm,
                    (k, s) => Saunderson.Measured(KubelkaMunk.Rinf(k / Math.Max(s, 1e-9)), ink.Convention)
                ),
                ViewingLight.D50
            ),
            Printed(ink, WhiteCloth, Meshes.Spot(ink.Kind), ViewingLight.D50),
            Printed(ink, BlackCloth, Meshes.Spot(ink.Kind), ViewingLight.D50)
        );

    /// <summary>CIEDE2000 of one pass to a target, on white and on black cloth.</summary>
    public static (double OnWhite, double OnBlack) ToTarget(Ink ink, InkTarget target)
    {
        double On(Ground cloth) =>
            Ciede2000.Difference(Printed(ink, cloth, Meshes.Spot(ink.Kind), target.Light), target.Lab);
        return (On(WhiteCloth), On(BlackCloth));
    }

    /// <summary>A solid of one pass.</summary>
    internal static Lab Printed(Ink ink, Ground cloth, Mesh mesh, ViewingLight light) =>
        LabOf(Solid.Colour(cloth, [new(ink, mesh, 1, false)], PressSettings.Automatic, Deposit.Expected), light);

    private static Lab LabOf(Spectrum spectrum, ViewingLight light) =>
        CieLab.FromXyz(Tristimulus.Of(spectrum, light), light);

    private static Ground Cloth(string id, Spectrum reflectance) =>
        new(
            new("plain-tee", "Plain tee", Jersey, [], [], ""),
            new(
                id,
                id,
                reflectance,
                [new(FibreKind.Cotton, 1)],
                0,
                null,
                DataClass.C,
                "a default of the trade, to show inks on"
            )
        );
}
