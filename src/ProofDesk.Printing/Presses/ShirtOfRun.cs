using ProofDesk.Imaging.Rasters;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// One shirt of a run. What was set up stays for the run, what a pallet does comes back with the pallet, the rest is this shirt's own;
/// and nobody loads a shirt twice in the same place.
/// </summary>
/// <param name="Number">1, 2, ...; the first is the shirt the proof shows.</param>
/// <param name="Pallet">1 to the number of pallets, in turn.</param>
/// <param name="LoadedRightMm">Where the whole print sits on the garment, from where it should: to the right.</param>
/// <param name="LoadedDownMm">The same, downwards.</param>
/// <param name="LoadedDegrees">Turned clockwise.</param>
public sealed record ShirtOfRun(int Number, int Pallet, double LoadedRightMm, double LoadedDownMm, double LoadedDegrees)
{
    /// <summary>Loading tolerance of a direct print, +-10 to 12 mm (common practice), taken as two sigma.</summary>
    public const double LoadingToleranceMm = 11;

    /// <summary>+-1.5 degrees (common practice), taken as two sigma.</summary>
    public const double LoadingToleranceDegrees = 1.5;

    private const ulong LoadingSalt = 0x10AD_1A5A;

    public static ShirtOfRun Of(int number, int pallets, ulong seed) =>
        new(
            number,
            (number - 1) % pallets + 1,
            LoadingToleranceMm / 2 * Normal(seed ^ LoadingSalt, number, 0),
            LoadingToleranceMm / 2 * Normal(seed ^ LoadingSalt, number, 1),
            LoadingToleranceDegrees / 2 * Normal(seed ^ LoadingSalt, number, 2)
        );

    // Beyond two sigma the loader pulls the shirt off and loads it again.
    private static double Normal(ulong seed, long number, long draw) =>
        Math.Clamp(SeededNoise.Normal(seed, number, draw), -2, 2);
}
