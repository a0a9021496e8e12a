using ProofDesk.Web.Proofs;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.LightTable;

/// <param name="X">Where the loupe stands on the inked extent, mm.</param>
/// <param name="Mm">Side of the square the loupe shows.</param>
public sealed record LightTablePage(
    ReadVersion Read,
    PrintSummary Print,
    GroundSummary Ground,
    TableLay Lay,
    IReadOnlyList<LaidFilm> Films,
    TableDrawing Drawing,
    double X,
    double Y,
    double Mm,
    int? OpenFilm,
    int NewestNumber,
    Guid NewestId
)
{
    public const double UsualMm = 3;

    public string Here => $"/versions/{Read.Version.Id}/light-table";

    public string PrintAndGround => $"print={Uri.EscapeDataString(Print.Key)}&ground={Uri.EscapeDataString(Ground.Id)}";

    public bool IsSuperseded => NewestNumber > Read.Version.Number;

    public bool HasPaleOnLight => Lay == TableLay.Light && Films.Any(f => f.IsPale);

    public string SheetUrl(LaidFilm film, TableLay lay) =>
        $"{Here}/film.png?{PrintAndGround}&screen={film.Plate.Screen}&lay={Word(lay)}";

    public string FilmLoupe(LaidFilm film) =>
        $"/versions/{Read.Version.Id}/loupe.png?{PrintAndGround}&{Spot}&film={film.Plate.Screen}";

    public string PrintLoupe(LaidFilm film) =>
        $"/versions/{Read.Version.Id}/loupe.png?{PrintAndGround}&{Spot}&after={film.Head}";

    public static string Word(TableLay lay) => lay.ToString().ToLowerInvariant();

    public static string LayWords(TableLay lay, string colour) =>
        lay switch
        {
            TableLay.Black => "Light, black",
            TableLay.Cloth => $"{colour} cloth",
            _ => "Light, in ink",
        };

    public static LightTablePage Of(ReadVersion read, TableQuery query, int newestNumber, Guid newestId)
    {
        var print = read.Summary.Prints.FirstOrDefault(p => p.Key == query.Print) ?? read.Summary.Prints[0];
        var ground = print.Grounds.FirstOrDefault(g => g.Id == query.Ground) ?? print.Grounds[0];
        return new(
            read,
            print,
            ground,
            LayOf(query.Lay),
            [.. print.Plates.Select(p => LaidFilm.Of(p, ground, query))],
            new(print.WidthMm, print.HeightMm, print.Plates.Length),
            Within(query.X, print.WidthMm),
            Within(query.Y, print.HeightMm),
            query.Mm is { } mm && double.IsFinite(mm)
                ? Math.Clamp(mm, LoupeDesk.SmallestMm, LoupeDesk.LargestMm)
                : UsualMm,
            query.Film,
            newestNumber,
            newestId
        );
    }

    public static TableLay LayOf(string? word) =>
        word switch
        {
            "black" => TableLay.Black,
            "cloth" => TableLay.Cloth,
            _ => TableLay.Light,
        };

    private string Spot => FormattableString.Invariant($"x={X:0.##}&y={Y:0.##}&mm={Mm:0.##}");

    private static double Within(double? at, double end) =>
        at is { } given && double.IsFinite(given) ? Math.Clamp(given, 0, end) : end / 2;
}
