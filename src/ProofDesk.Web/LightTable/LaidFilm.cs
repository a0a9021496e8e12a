using ProofDesk.Web.Renders;

namespace ProofDesk.Web.LightTable;

/// <summary>One film as it lies on the table.</summary>
/// <param name="Hex">Its ink's solid on the chosen cloth.</param>
/// <param name="Runs">Whether the screen runs on the chosen cloth.</param>
/// <param name="Head">Its place among the screens that run there, from 1; 0 when it does not.</param>
public sealed record LaidFilm(
    PlateSummary Plate,
    string Ink,
    string Hex,
    bool Runs,
    int Head,
    bool IsOn,
    double AsidePercent
)
{
    /// <summary>Ink paler than this cannot be seen against the lamp, L* roughly 88 and more.</summary>
    private const double PaleLuma = 0.82;

    /// <summary>What stands for white on the light: a cool grey that no ink of the trade is mixed to.</summary>
    public const string StandIn = "#a9b8c6";

    /// <summary>Against the version before: on this film only; multiplied with <see cref="Went"/> nearly black.</summary>
    public const string Came = "#0a7d9c";

    /// <summary>On the film of the version before only.</summary>
    public const string Went = "#e0533d";

    /// <summary>The same film of the version before, when there is one.</summary>
    public string? BeforeUrl { get; init; }

    public bool IsPale => Luma(Hex) > PaleLuma;

    /// <summary>The colour the sheet is drawn in.</summary>
    public string Drawn(TableLay lay) =>
        lay switch
        {
            TableLay.Black => "#141414",
            TableLay.Cloth => Hex,
            TableLay.Against => Came,
            _ => IsPale ? StandIn : Hex,
        };

    public static LaidFilm Of(PlateSummary plate, GroundSummary ground, TableQuery query)
    {
        var running = ground.Runs.Where(r => r.Runs).Select(r => r.Screen).Distinct().ToList();
        var row = ground.Inks.FirstOrDefault(r => r.Plate == plate.Name);
        var runs = running.Contains(plate.Screen);
        return new(
            plate,
            ground.Runs.FirstOrDefault(r => r.Screen == plate.Screen && r.Runs)?.Ink ?? plate.Ink,
            row?.ExpectedHex ?? plate.Hex,
            runs,
            running.IndexOf(plate.Screen) + 1,
            query.LiesOn(plate.Screen, runs),
            query.AsidePercent(plate.Screen)
        );
    }

    // Rec. 709 weights on the encoded values: good enough to tell pale from not.
    private static double Luma(string hex) =>
        (
            0.2126 * Convert.ToInt32(hex[1..3], 16)
            + 0.7152 * Convert.ToInt32(hex[3..5], 16)
            + 0.0722 * Convert.ToInt32(hex[5..7], 16)
        ) / 255;
}

/// <summary>What the films lie on.</summary>
public enum TableLay
{
    /// <summary>The lamp, each film in its ink's colour.</summary>
    Light,

    /// <summary>The lamp, black as film is.</summary>
    Black,

    /// <summary>The order's cloth, as opaque sheets of ink.</summary>
    Cloth,

    /// <summary>The lamp, over the same film of the version before: what went and what came.</summary>
    Against,
}
