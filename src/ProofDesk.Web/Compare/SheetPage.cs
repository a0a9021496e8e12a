using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Sheets;
using ProofDesk.Printing.Comparisons;
using ProofDesk.Printing.Methods;
using ProofDesk.Web.Layout;

namespace ProofDesk.Web.Compare;

/// <summary>A sheet as it is shown: rows of cells, and what was said about them.</summary>
/// <param name="Here">The address everything of it hangs on: the desk's or a link's.</param>
public sealed record SheetPage(CompareSheet Sheet, SheetRequest Request, ImmutableArray<SheetRow> Rows, string Here)
{
    public IReadOnlyList<SheetLink> Links { get; init; } = [];
    public IReadOnlyList<SheetPreference> Preferences { get; init; } = [];

    /// <summary>A link that was made just now; it is shown this once.</summary>
    public string? NewLink { get; init; }
    public SheetLinkForm LinkForm { get; init; } = new();

    /// <summary>"print" or "garment".</summary>
    public string View { get; init; } = PrintView;

    public const string PrintView = "print";
    public const string GarmentView = "garment";

    public IEnumerable<SheetCell> Cells => Sheet.Cells;
    public int Waiting => Cells.Count(c => c.State is CellState.Ready or CellState.Running);
    public int Made => Cells.Count(c => c.State is CellState.Done or CellState.Cannot);
    public bool CanTryAgain => Cells.Any(c => c.State is CellState.Failed or CellState.Cancelled);
    public bool IsFinished => Waiting == 0;

    public int Across => Rows.Max(row => row.Cells.Length);

    public SheetPreference? PreferenceOf(Guid linkId) => Preferences.FirstOrDefault(p => p.LinkId == linkId);

    public ShownCell? Find(Guid cellId) => Rows.SelectMany(row => row.Cells).FirstOrDefault(c => c.Cell.Id == cellId);

    /// <summary>How its pictures were made.</summary>
    public string HowMade =>
        FormattableString.Invariant(
            $"{Request.Print.ArtFileName}, {Request.Print.WidthMm:0.#} mm wide. Every picture is a proof of its own: plates, dots, press and ink on this cloth alone, from films of at most {Request.FilmDpi} dpi, averaged down. For an order the proof is made anew at the resolution of its device, and garments of one order share screens."
        );

    /// <summary>From the first claim to the last picture; null while cells are waiting.</summary>
    public TimeSpan? Took => IsFinished && Cells.Max(c => c.FinishedAt) is { } last ? last - Sheet.CreatedAt : null;

    public DrawnSheet Drawn(string shop) =>
        new(
            Sheet.Title,
            shop,
            HowMade,
            NotOnScreen.Always + " A preference marked on this sheet is no approval.",
            Cells.Max(c => c.FinishedAt) ?? Sheet.CreatedAt,
            [.. Rows.Select(row => new DrawnRow(row.Title, row.Words, [.. row.Cells.Select(Tile)]))]
        );

    private static DrawnTile Tile(ShownCell shown) =>
        shown.Card is { } card
            ? new(
                shown.Cloth,
                shown.Cell.PrintSha256,
                [
                    .. card.Lines.Select(line => $"{line.Name}: {line.Value}"),
                    .. card.Facts.Cautions.Take(MostCautions).Select(caution => $"Caution: {caution}"),
                    .. card.Facts.Cautions.Length > MostCautions
                        ?
                        [
                            $"{Words.Count(card.Facts.Cautions.Length - MostCautions, "caution", "cautions")} more on the desk",
                        ]
                        : ImmutableArray<string>.Empty,
                    .. card.Facts.NotShown.Select(not => $"Not shown: {not}"),
                ]
            )
            : new(shown.Cloth, null, [.. shown.Why]);

    // A file is read once and put away; the page holds them all.
    private const int MostCautions = 2;
}

/// <summary>A method with one number of inks.</summary>
/// <param name="Words">What the method is, and its caution.</param>
public sealed record SheetRow(string Title, string Words, string Caution, ImmutableArray<ShownCell> Cells);

/// <param name="Cloth">"T-shirt, Black".</param>
/// <param name="Card">Null until it is made, and when it cannot be.</param>
public sealed record ShownCell(SheetCell Cell, string Cloth, CellCard? Card)
{
    public string Title { get; init; } = "";

    /// <summary>The cell's method and inks, as an order's form takes them.</summary>
    public string Choice =>
        $"method={Uri.EscapeDataString(Cell.Method)}" + (Cell.Inks is { } count ? $"&colours={count}" : "");

    /// <summary>Why there is no picture, sentence by sentence.</summary>
    public IEnumerable<string> Why =>
        Cell.State switch
        {
            CellState.Cannot => (Cell.Error ?? "").Split('\n'),
            CellState.Failed => [$"It broke {RenderTries} times; the last time it said: {Cell.Error}"],
            CellState.Cancelled => ["Stopped before it was begun"],
            CellState.Running =>
            [
                Cell.Stage.Length > 0
                    ? string.Create(CultureInfo.InvariantCulture, $"Being made: {Cell.Stage}, {Cell.PercentDone} %")
                    : "Being made",
            ],
            CellState.Ready =>
            [
                Cell.Error is { } error ? $"Tried again in a moment; it said: {error}" : "Waits for its turn",
            ],
            _ => [],
        };

    private const int RenderTries = Adapters.Work.RenderQueue.MostAttempts;
}

/// <summary>Reads sheets for pages.</summary>
public sealed class SheetPages(SheetBook book, SheetLinks links, Start.Garments garments)
{
    public async Task<SheetPage?> FindAsync(Guid sheetId, string here, CancellationToken cancel)
    {
        if (await book.FindAsync(sheetId, cancel) is not { } sheet)
            return null;
        var rows = sheet
            .Cells.GroupBy(cell => (cell.Method, cell.Inks))
            .Select(row =>
            {
                var method = PrintMethods.Find(row.Key.Method);
                var title = ComparedWay.NameOf(method?.Name ?? row.Key.Method, row.Key.Inks);
                return new SheetRow(
                    title,
                    method?.Summary ?? "",
                    method?.Caution ?? "",
                    [.. row.Select(cell => new ShownCell(cell, Cloth(cell), CellCard.Of(cell)) { Title = title })]
                );
            });
        return new SheetPage(sheet, SheetRequest.FromJson(sheet.RequestJson), [.. rows], here)
        {
            Links = await links.OfSheetAsync(sheetId, cancel),
            Preferences = await links.PreferencesAsync(sheetId, cancel),
        };
    }

    private string Cloth(SheetCell cell) =>
        garments.Find(cell.GarmentId, cell.ColourId) is { } ground
            ? $"{ground.Garment.Name}, {ground.Colour.Name}"
            : $"{cell.GarmentId}, {cell.ColourId}";
}
