using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Reviews;

/// <summary>What of a version is looked at closely.</summary>
public enum PictureView
{
    Garment,
    Print,
    Films,
    Art,
    Sizes,
}

/// <summary>The page of one picture: which print, on which garment, which film, and the spot the loupe stands on.</summary>
public sealed record ReviewPicture(ReviewPage Page, PictureView View, PrintSummary Print, GroundSummary Ground)
{
    /// <summary>A screen, from 1.</summary>
    public int Film { get; init; } = 1;

    /// <summary>Mm from the left and the top of the inked extent; null before a spot was picked.</summary>
    public (double X, double Y)? Spot { get; init; }

    /// <summary>Which end of the range the print is shown at: "", "light" or "heavy".</summary>
    public string End { get; init; } = "";

    public static ReviewPicture Of(
        ReviewPage page,
        PictureView view,
        string? print,
        string? ground,
        int? film,
        double? x,
        double? y,
        string? end
    )
    {
        var chosen = page.Prints.FirstOrDefault(p => p.Key == print) ?? page.Prints[0];
        var cloth = chosen.Grounds.FirstOrDefault(g => g.Id == ground) ?? chosen.Grounds[0];
        return new(page, view, chosen, cloth)
        {
            Film = Math.Clamp(film ?? 1, 1, Math.Max(1, chosen.Plates.Length)),
            Spot =
                x is { } left && y is { } top && double.IsFinite(left) && double.IsFinite(top)
                    ? (Math.Clamp(left, 0, chosen.WidthMm), Math.Clamp(top, 0, chosen.HeightMm))
                    : null,
            End = end is "light" or "heavy" ? end : "",
        };
    }

    /// <summary>The bound picture shown; null where the view has none.</summary>
    public string? Path =>
        View switch
        {
            PictureView.Garment => Ground.GarmentPath,
            PictureView.Print => End switch
            {
                "light" => Ground.LightPath,
                "heavy" => Ground.HeavyPath,
                _ => Ground.PrintPath,
            },
            PictureView.Films => Print.Plates.Length > 0 ? Print.Plates[Film - 1].ViewPath : null,
            _ => null,
        };

    /// <summary>Pixels of the picture for one millimetre; null where nothing says it.</summary>
    public double? PixelsPerMm =>
        View switch
        {
            PictureView.Garment => Page.Order.GarmentPixelsPerMm ?? Printing.Proofs.WornGarment.UsualPixelsPerMm,
            PictureView.Print when Path is { } path => Page.SizeOf(path).Width / (Print.WidthMm + 2 * Ground.MarginMm),
            PictureView.Films when Path is { } path => Page.SizeOf(path).Width / Print.WidthMm,
            _ => null,
        };

    public bool HasLoupe => View == PictureView.Print && End.Length == 0;

    public string Address(PictureView view) => Page.PictureUrl(view, Print, Ground);

    public string LoupeUrl(double x, double y) =>
        FormattableString.Invariant(
            $"{Page.Here}/loupe.png?print={Uri.EscapeDataString(Print.Key)}&ground={Uri.EscapeDataString(Ground.Id)}&x={x:0.##}&y={y:0.##}"
        );
}

/// <summary>A bound picture as a page shows it: smaller copies of it, and the room it takes.</summary>
/// <param name="Sizes">How wide it stands, as `sizes` of the img element says it.</param>
public sealed record ShownPicture(ReviewPage Page, string Path, string Alt, string Sizes, bool First = false);
