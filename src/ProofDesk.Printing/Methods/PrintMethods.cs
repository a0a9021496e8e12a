using System.Collections.Immutable;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Methods;

/// <summary>The list of methods: adding one adds a line here, a file in Separations, one in Presses and a page in docs/methods.</summary>
public static class PrintMethods
{
    public static ImmutableArray<PrintMethod> All { get; } =
    [
        ScreenSpot.Plastisol,
        ScreenSpot.WaterBased,
        DischargeSeparator.Method,
        MetallicSeparator.Method,
        FoilSeparator.Method,
        VinylSeparator.Method,
        TransferSeparator.Method,
        FourColourProcess.Method,
        SimulatedProcess.Method,
        DirectToGarment.Method,
        DyeSeparator.Sublimation,
        DyeSeparator.CutAndSew,
        BeltSeparator.Method,
    ];

    /// <summary>The method with this identifier, or null.</summary>
    public static PrintMethod? Find(string id) => All.FirstOrDefault(m => m.Id == id);
}
