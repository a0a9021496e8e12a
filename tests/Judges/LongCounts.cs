using System.Globalization;

namespace ProofDesk.Judges;

/// <summary>
/// Counts that take minutes or hours: with PROOFDESK_LONG=1 only. PROOFDESK_LONG_SHARE=0.1 runs a tenth of each, on a machine that has
/// not the time for all; what a test prints says how many it were.
/// </summary>
internal static class LongCounts
{
    public static bool Asked { get; } = Environment.GetEnvironmentVariable("PROOFDESK_LONG") == "1";

    private static readonly double Share = double.TryParse(
        Environment.GetEnvironmentVariable("PROOFDESK_LONG_SHARE"),
        CultureInfo.InvariantCulture,
        out var share
    )
        ? Math.Clamp(share, 0.001, 1)
        : 1;

    public static int Of(int whole) => Math.Max(1, (int)(whole * Share));
}
