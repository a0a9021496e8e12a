using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Tests.Separations;

/// <summary>A tee in a few plain colours, good enough to separate for.</summary>
internal static class TestGrounds
{
    public static Ground White { get; } = Tee("White", _ => 0.84, brightener: 0.25);
    public static Ground Black { get; } = Tee("Black", _ => 0.028);
    public static Ground Red { get; } = Tee("Red", nm => 0.03 + 0.5 / (1 + Math.Exp(-(nm - 600) / 12)));
    public static Ground Grey { get; } = Tee("Light heather", _ => 0.42);

    private static Ground Tee(string name, Func<double, double> reflectance, double brightener = 0)
    {
        var colour = new GarmentColour(
            name.ToLowerInvariant(),
            name,
            Spectrum.From(reflectance),
            [new(FibreKind.Cotton, 1)],
            brightener,
            null,
            DataClass.C,
            "drawn for tests"
        );
        return new(new("tee", "Tee", new(0.8, 0.6, 0.5, 0.006), [], [colour], new string('0', 64)), colour);
    }
}
