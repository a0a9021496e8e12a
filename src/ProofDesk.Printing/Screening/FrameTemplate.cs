using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Screening;

/// <summary>
/// Where things lie on every film of a shop, so that pre-registered screens fit without looking (distances common practice).
/// </summary>
/// <param name="MarkDistanceMm">From the image's edge to the centre of the register mark.</param>
/// <param name="MarkLineMm">Width of the mark's lines.</param>
/// <param name="MarkSizeMm">Across the mark.</param>
/// <param name="SideMarginMm">Film beside the image.</param>
/// <param name="LeastWidthMm">A narrow print still gets a film this wide, for the label.</param>
public sealed record FrameTemplate(
    double MarkDistanceMm,
    double MarkLineMm,
    double MarkSizeMm,
    double SideMarginMm,
    double LeastWidthMm
)
{
    public const double LeastMarkDistanceMm = 12;
    public const double MostMarkDistanceMm = 20;
    public const double LeastMarkLineMm = 0.1;
    public const double MostMarkLineMm = 0.15;

    public static FrameTemplate Usual { get; } = new(16, 0.125, 12, 15, 150);

    [LaterSetting]
    public string Name { get; init; } = "usual";

    /// <summary>Distance of the print's top edge from the pallet edge.</summary>
    public double ImageFromPalletEdgeMm { get; init; } = 100;

    /// <summary>Free width inside the frame; null = nobody has said.</summary>
    [LaterSetting]
    public double? InnerWidthMm { get; init; }

    [LaterSetting]
    public double? InnerHeightMm { get; init; }

    /// <summary>From the image's edge to the outer end of its register mark.</summary>
    public double MarkReachMm => MarkDistanceMm + MarkSizeMm / 2;
}
