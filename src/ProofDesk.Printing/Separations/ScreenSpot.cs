using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Methods;

namespace ProofDesk.Printing.Separations;

/// <summary>Spot colours through screens, the two plain ways: <see cref="SpotSeparator"/> as it stands.</summary>
internal static class ScreenSpot
{
    /// <summary>The usual caution of film inks through screens.</summary>
    public const string FlashAndDryer =
        "flash units, dryers and wash-up solvents can burn, start fires and harm lungs and skin; follow the ink supplier's sheet and local rules, and test-wash before the run";

    public static PrintMethod Plastisol { get; } =
        new(
            "plastisol",
            "Screen print, plastisol",
            InkKind.Plastisol,
            InkKind.Plastisol,
            "a film of ink on the cloth; white base under colours on dark cloth",
            FlashAndDryer
        )
        {
            Rules = new() { DischargeBase = DischargeInks.Base },
        };

    public static PrintMethod WaterBased { get; } =
        new(
            "water-based",
            "Screen print, water-based",
            InkKind.WaterBased,
            InkKind.HighSolidsWaterBased,
            "thin pigment inside the cloth: soft, and faded on dark cloth unless a high-solids white base runs first",
            "dryers and additives can burn and irritate; ventilate, follow the ink supplier's sheet and local rules, and test-wash before the run"
        );
}
