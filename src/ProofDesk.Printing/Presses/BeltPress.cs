using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Screening;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Finished garments on a belt under wide screens: the colours drift against each other, the garment lies where the loader
/// put it, and beside seams and in folds the cloth does not meet the screen.
/// </summary>
public sealed class BeltPress : MethodPress
{
    /// <summary>One sigma of where a garment lies under the art, each way; 5 to 15 mm are usual ([PHYSICS] 3.5).</summary>
    public const double PlacementSigmaMm = 6;

    /// <summary>Beyond this it is laid again.</summary>
    public const double PlacementToleranceMm = 15;

    /// <summary>Bare cloth along seams and at the edge of the laid garment, 2 to 10 mm ([PHYSICS] 3.5).</summary>
    private static readonly SewnCreases Bare = new(new(2, 6, 0.85), new(2, 10, 0.85), new(1, 4, 0.8));

    /// <summary>Colour to colour 0.3 to 0.8 mm, one sigma ([PHYSICS] 3.5); turn and stretch add to it at the far ends.</summary>
    public override PressSettings Settings(PressSettings shop) =>
        shop with
        {
            SetUpSigmaMm = 0.35,
            PalletSigmaMm = 0.1,
            JitterSigmaMm = 0.25,
        };

    public override Film Reaching(Film film, Films films, GroundPlan plan, Deposit deposit, ulong seed)
    {
        var (dx, dy) = Placed(seed, deposit);
        var placed = new ShiftedFilm(
            film,
            (int)Math.Round(dx * films.Device.XDpi / 25.4),
            (int)Math.Round(dy * films.Device.YDpi / 25.4)
        );
        return films.Separation.Lay is { } lay
            ? BareFilm.Of(placed, films, Bare.On(plan.Ground.Garment, lay, films.Separation.HeightMm, seed))
            : placed;
    }

    /// <summary>The art against the garment, the same for all colours; both ends of the range show the tolerance.</summary>
    internal static (double DxMm, double DyMm) Placed(ulong seed, Deposit deposit)
    {
        var (dx, dy) = (
            PlacementSigmaMm * SeededNoise.Normal(seed ^ 0xBE17, 0),
            PlacementSigmaMm * SeededNoise.Normal(seed ^ 0xBE17, 1)
        );
        var length = Math.Max(1e-9, Math.Sqrt(dx * dx + dy * dy));
        var wanted = deposit == Deposit.Expected ? Math.Min(length, PlacementToleranceMm) : PlacementToleranceMm;
        return (dx / length * wanted, dy / length * wanted);
    }
}
