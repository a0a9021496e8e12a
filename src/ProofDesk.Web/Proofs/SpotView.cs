using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Proofs;

/// <summary>What is seen around a place, mm on the inked extent: the place with some art about it, never past the art.</summary>
public sealed record SpotView(double X, double Y, double Width, double Height)
{
    private const double LeastWidthMm = 16;
    private const double Ratio = 0.7;
    private const double Around = 1.5;

    public static SpotView Of(SpotSummary spot, double widthMm, double heightMm)
    {
        var width = Math.Min(widthMm, Math.Max(LeastWidthMm, Around * Math.Max(spot.WidthMm, spot.HeightMm / Ratio)));
        var height = Math.Min(heightMm, width * Ratio);
        return new(
            Math.Clamp(spot.XMm + spot.WidthMm / 2 - width / 2, 0, widthMm - width),
            Math.Clamp(spot.YMm + spot.HeightMm / 2 - height / 2, 0, heightMm - height),
            width,
            height
        );
    }
}

/// <summary>A finding that has a place, with the letter it is marked by.</summary>
/// <param name="Index">Of the finding in the print's list.</param>
public sealed record PlacedFinding(string Letter, int Index, FindingSummary Finding, SpotSummary Spot, SpotView View);
