using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Where one screen lands. Set-up error (constant for the run), pallet error (repeats every N shirts) and jitter add up
/// to one print; rotation is sigma / 200 mm, stretch within +-0.0005 ([PHYSICS] 1.17, common practice).
/// </summary>
/// <param name="DxMm">To the right.</param>
/// <param name="DyMm">Downwards.</param>
/// <param name="RotationRadians">Clockwise about the centre of the print.</param>
/// <param name="Stretch">Relative, about the centre.</param>
internal readonly record struct RegisterError(double DxMm, double DyMm, double RotationRadians, double Stretch)
{
    private const double RotationArmMm = 200;
    private const double LargestStretch = 0.0005;

    public static RegisterError None { get; } = new(0, 0, 0, 0);

    /// <summary>
    /// The error of a plate, drawn from the seed. The light and the heavy end of the range show the register at its
    /// tolerance: the same direction, two sigma long.
    /// </summary>
    public static RegisterError Draw(PressSettings press, Deposit deposit, ulong seed, int plate)
    {
        var sigma = Sigma(press);
        var (dx, dy) = Shift(press, seed, plate, pallet: 1, number: 1);
        var length = Math.Sqrt(dx * dx + dy * dy);
        if (deposit != Deposit.Expected && length > 0)
            (dx, dy) = (dx / length * 2 * sigma, dy / length * 2 * sigma);
        if (sigma == 0)
            return None;
        return new(
            dx,
            dy,
            sigma / RotationArmMm * Normal(seed, plate, 6),
            Math.Clamp(LargestStretch / 2 * Normal(seed, plate, 7), -LargestStretch, LargestStretch)
        );
    }

    /// <summary>
    /// The error of a plate on one shirt of a run: set-up as for all, the pallet's part and the jitter its own. On the first shirt
    /// it is the expected print's.
    /// </summary>
    public static RegisterError Of(PressSettings press, ulong seed, int plate, ShirtOfRun shirt)
    {
        var (dx, dy) = Shift(press, seed, plate, shirt.Pallet, shirt.Number);
        return Draw(press, Deposit.Expected, seed, plate) with { DxMm = dx, DyMm = dy };
    }

    private static (double Dx, double Dy) Shift(PressSettings press, ulong seed, int plate, int pallet, int number)
    {
        double Sum(long axis) =>
            press.SetUpSigmaMm * Normal(seed, plate, axis)
            + press.PalletSigmaMm * Normal(seed, plate, axis + 1 + 1000L * (pallet - 1))
            + press.JitterSigmaMm * Normal(seed, plate, axis + 2 + 1_000_000L * (number - 1));

        return (Sum(0), Sum(3));
    }

    /// <summary>Shift at a point given from the centre of the print, mm.</summary>
    public (double X, double Y) At(double xMm, double yMm) =>
        (DxMm - RotationRadians * yMm + Stretch * xMm, DyMm + RotationRadians * xMm + Stretch * yMm);

    /// <summary>One sigma of one print, x or y.</summary>
    public static double Sigma(PressSettings press) =>
        Math.Sqrt(
            press.SetUpSigmaMm * press.SetUpSigmaMm
                + press.PalletSigmaMm * press.PalletSigmaMm
                + press.JitterSigmaMm * press.JitterSigmaMm
        );

    /// <summary>As a shift of film pixels on a print that has <paramref name="pad"/> more pixels at its left.</summary>
    public PlaneShift Shift(PictureScale scale, int filmWidth, int filmHeight, int pad)
    {
        var shift = PlaneShift.Register(
            DxMm * scale.XPixelsPerMm,
            DyMm * scale.YPixelsPerMm,
            RotationRadians,
            1 + Stretch,
            1 + Stretch,
            filmWidth / 2.0,
            filmHeight / 2.0,
            scale.YPixelsPerMm / scale.XPixelsPerMm
        );
        return shift with { Dx = shift.Dx - pad - shift.Dxx * pad, Dy = shift.Dy - shift.Dyx * pad };
    }

    // Beyond 2.5 sigma the printer stops and sets up again.
    private static double Normal(ulong seed, int plate, long draw) =>
        Math.Clamp(SeededNoise.Normal(seed ^ 0x7E61_57E4UL, plate, draw), -2.5, 2.5);
}
