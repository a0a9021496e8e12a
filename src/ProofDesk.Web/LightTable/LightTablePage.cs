using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Separations.ByHand;
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
    ProofVersion? Newest
)
{
    /// <summary>The fields to change films with; null while only films are drawn.</summary>
    public HandPanel? Hand { get; private init; }

    public const double UsualMm = 3;

    public string Here => $"/versions/{Read.Version.Id}/light-table";

    public string PrintAndGround => $"print={Uri.EscapeDataString(Print.Key)}&ground={Uri.EscapeDataString(Ground.Id)}";

    /// <summary>The version before, whose films these can be laid over.</summary>
    public ReadVersion? Before { get; private init; }

    /// <summary>What the films can be laid on.</summary>
    public IEnumerable<TableLay> Lays =>
        Enum.GetValues<TableLay>().Where(l => l != TableLay.Against || Before is not null);

    /// <summary>Fields that came back with something to mend are shown whatever became of the version meanwhile.</summary>
    public bool HasFields => !IsSuperseded || Hand is { CameBack: true };

    /// <summary>A newer version has its films finished.</summary>
    public bool IsSuperseded => Newest is { } newest && newest.Number > Read.Version.Number;

    /// <summary>What was changed by hand on the films on the table.</summary>
    public HandWork HandWork => Read.Order.Prints.First(p => p.Key == Print.Key).Options?.HandWork ?? HandWork.None;

    public bool HasPaleOnLight => Lay == TableLay.Light && Films.Any(f => f.IsPale);

    public string SheetUrl(LaidFilm film, TableLay lay) =>
        $"{Here}/film.png?{PrintAndGround}&screen={film.Plate.Screen}&lay={Word(lay)}";

    public string FilmLoupe(LaidFilm film) =>
        $"/versions/{Read.Version.Id}/loupe.png?{PrintAndGround}&{Spot}&film={film.Plate.Screen}";

    public string PrintLoupe(LaidFilm film) =>
        $"/versions/{Read.Version.Id}/loupe.png?{PrintAndGround}&{Spot}&after={film.Head}";

    public static string Word(TableLay lay) => lay.ToString().ToLowerInvariant();

    public static string LayWords(TableLay lay, string colour, int? before) =>
        lay switch
        {
            TableLay.Black => "Light, black",
            TableLay.Cloth => $"{colour} cloth",
            TableLay.Against => $"Over version {before}",
            _ => "Light, in ink",
        };

    /// <param name="work">What the order asks for by hand now.</param>
    public LightTablePage With(HandForm form, Order order, HandWork? work, bool cameBack = false) =>
        this with
        {
            Hand = new(form, order.Versions[0], !HandWork.Equals(work ?? HandWork.None), cameBack),
        };

    /// <summary>Lays each film over the film of the same name in an earlier version.</summary>
    public LightTablePage Over(ReadVersion? before)
    {
        if (before?.Summary.Prints.FirstOrDefault(p => p.Key == Print.Key) is not { } print)
            return Lay == TableLay.Against ? this with { Lay = TableLay.Light } : this;
        return this with
        {
            Before = before,
            Films =
            [
                .. Films.Select(film =>
                    film with
                    {
                        BeforeUrl = print.Plates.FirstOrDefault(p => p.Name == film.Plate.Name) is { } plate
                            ? $"/versions/{before.Version.Id}/light-table/film.png?print={Uri.EscapeDataString(Print.Key)}&screen={plate.Screen}&lay=before"
                            : null,
                    }
                ),
            ],
        };
    }

    public FilmEditor Editor(LaidFilm film)
    {
        var at = Hand!.Form.Films.FindIndex(f => f.Plate == film.Plate.Name);
        return new(this, film, Hand.Form.Films[at], at);
    }

    /// <param name="order">With its versions, the newest first; null where only films are drawn.</param>
    public static LightTablePage Of(ReadVersion read, TableQuery query, Order? order = null)
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
            order?.Versions.FirstOrDefault(v => v.ManifestSha256 is not null)
        );
    }

    public static TableLay LayOf(string? word) =>
        word switch
        {
            "black" => TableLay.Black,
            "cloth" => TableLay.Cloth,
            "against" => TableLay.Against,
            _ => TableLay.Light,
        };

    private string Spot => FormattableString.Invariant($"x={X:0.##}&y={Y:0.##}&mm={Mm:0.##}");

    private static double Within(double? at, double end) =>
        at is { } given && double.IsFinite(given) ? Math.Clamp(given, 0, end) : end / 2;
}
