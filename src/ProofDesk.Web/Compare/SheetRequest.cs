using System.Collections.Immutable;
using System.Text.Json;
using ProofDesk.Adapters.Work;
using ProofDesk.Web.Renders;

namespace ProofDesk.Web.Compare;

/// <summary>What every cell of a sheet shares, as it was when the sheet was asked for. Presses are named with their version.</summary>
/// <param name="Print">Art, place, width and background; method and inks are the cell's.</param>
/// <param name="Sizes">Sizes the print must fit on.</param>
/// <param name="Quantity">Pieces the cost is said for.</param>
/// <param name="FilmDpi">Of the films behind the pictures.</param>
public sealed record SheetRequest(
    string Shop,
    ProofOrderPrint Print,
    ImmutableArray<string> Sizes,
    int Quantity,
    int FilmDpi,
    double GarmentPixelsPerMm,
    ulong Seed,
    string Currency
)
{
    /// <summary>Finer films change nothing that can be seen at the size of a cell; the order's own proof is made at the device's.</summary>
    public const int MostFilmDpi = 720;

    public const double MostGarmentPixelsPerMm = 1;

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    public string ToJson() => JsonSerializer.Serialize(this, Json);

    public static SheetRequest FromJson(string json) =>
        JsonSerializer.Deserialize<SheetRequest>(json, Json) ?? throw new InvalidDataException("the request is empty");

    /// <summary>An order of one line, for the same path that every order takes to its proof.</summary>
    public (ProofOrder Order, ProofOrderPrint Print) Of(CellJob cell)
    {
        var print = Print with { Method = cell.Method, Inks = cell.Inks?.ToString() ?? "auto" };
        return (
            new ProofOrder(
                Shop,
                0,
                "",
                "",
                null,
                null,
                [print],
                [new ProofOrderLine(cell.GarmentId, cell.ColourId, Counts())],
                FilmDpi,
                Seed,
                GarmentPixelsPerMm
            ),
            print
        );
    }

    private ImmutableArray<ProofOrderCount> Counts() =>
        [
            .. Sizes.Select(
                (size, i) => new ProofOrderCount(size, i == 0 ? Math.Max(1, Quantity - Sizes.Length + 1) : 1)
            ),
        ];
}
