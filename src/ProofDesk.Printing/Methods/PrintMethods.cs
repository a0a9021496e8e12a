using System.Collections.Immutable;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Methods;

/// <summary>The list of methods: adding one adds a line here, a file in Separations, one in Presses and a page in docs/methods.</summary>
public static class PrintMethods
{
    public static ImmutableArray<PrintMethod> All { get; } =
    [
        new(
            "plastisol",
            "Screen print, plastisol",
            InkKind.Plastisol,
            InkKind.Plastisol,
            "a film of ink on the cloth; white base under colours on dark cloth",
            "flash units, dryers and wash-up solvents can burn, start fires and harm lungs and skin; follow the ink supplier's sheet and local rules, and test-wash before the run"
        ),
        new(
            "water-based",
            "Screen print, water-based",
            InkKind.WaterBased,
            InkKind.HighSolidsWaterBased,
            "thin pigment inside the cloth: soft, and faded on dark cloth unless a high-solids white base runs first",
            "dryers and additives can burn and irritate; ventilate, follow the ink supplier's sheet and local rules, and test-wash before the run"
        ),
    ];

    /// <summary>The method with this identifier, or null.</summary>
    public static PrintMethod? Find(string id) => All.FirstOrDefault(m => m.Id == id);
}
