using System.Globalization;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Reviews;

/// <summary>
/// The picture one presses to point at a spot. It is a button of the form, so it works without script; its width on the page is
/// fixed, so that the pixels a browser sends are millimetres.
/// </summary>
public sealed record SpotPicture(GroundSummary Ground, double WidthMm, double HeightMm)
{
    /// <summary>Fits 320 px with the page's edges.</summary>
    public const int WidthPx = 272;

    public static SpotPicture Of(ReviewPage page, PrintSummary print)
    {
        var ground = print.Grounds[0];
        return new(ground, print.WidthMm + 2 * ground.MarginMm, print.HeightMm + 2 * ground.MarginMm);
    }

    public int HeightPx => Math.Max(1, (int)Math.Round(WidthPx * HeightMm / WidthMm));

    /// <summary>A press at (x, y) px as mm right of and below the middle of the print's upper edge, as a field shows them.</summary>
    public (string Right, string Down) Millimetres(int x, int y)
    {
        var perPx = WidthMm / WidthPx;
        return (Text(x * perPx - WidthMm / 2), Text(y * perPx - Ground.MarginMm));
    }

    private static string Text(double mm) => Math.Round(mm, 1).ToString("0.#", CultureInfo.InvariantCulture);
}
