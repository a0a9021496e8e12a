using System.Collections.Immutable;
using System.Text.Json;
using ProofDesk.Adapters.Database;
using ProofDesk.Printing.Artworks;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Renders;

/// <summary>
/// The order as it was when the render was asked for. It is stored with the version: the order may be edited afterwards,
/// what a version shows may not.
/// </summary>
public sealed record ProofOrder(
    string Shop,
    int Number,
    string Title,
    string Client,
    DateOnly? InHands,
    DateOnly? ApproveBy,
    ImmutableArray<ProofOrderPrint> Prints,
    ImmutableArray<ProofOrderLine> Lines,
    int FilmDpi,
    ulong Seed,
    double? GarmentPixelsPerMm = null
)
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    public int Pieces => Lines.Sum(l => l.Pieces);

    public static ProofOrder Of(Order order, ServerSettings settings) =>
        new(
            settings.ShopName,
            order.Number,
            order.Title,
            order.Client?.Name ?? "",
            order.InHandsDate,
            order.ApproveByDate,
            [.. order.Prints.OrderBy(p => p.Position).Select(ProofOrderPrint.Of)],
            [.. order.Lines.OrderBy(l => l.Position).Select(ProofOrderLine.Of)],
            settings.FilmDpi,
            Seed: 1,
            settings.GarmentPixelsPerMm
        );

    public string ToJson() => JsonSerializer.Serialize(this, Json);

    public static ProofOrder FromJson(string json) =>
        JsonSerializer.Deserialize<ProofOrder>(json, Json) ?? throw new InvalidDataException("the request is empty");
}

/// <param name="Key">Folder of the print inside the version: "front", "left-chest", with a number from the second on.</param>
public sealed record ProofOrderPrint(
    string Key,
    string Name,
    string ArtSha256,
    string ArtFileName,
    string ArtMediaType,
    Place Place,
    double WidthMm,
    double FromSeamMm,
    double FromCentreMm,
    string Method,
    string Background,
    string Inks,
    string Base,
    string SizeGroup,
    ImmutableArray<string> Words
)
{
    public bool BlockingBase { get; init; }

    /// <summary>"own-shed-press@2"; empty for the usual automatic press.</summary>
    public string Press { get; init; } = "";

    /// <summary>Null in requests stored before there were any, and when nothing was chosen.</summary>
    public PrintOptions? Options { get; init; }

    public static ProofOrderPrint Of(OrderPrint print)
    {
        var onPress = PressChoice.Of(print.Base);
        return new(
            KeyOf(print),
            print.Name,
            print.ArtSha256,
            print.ArtFileName,
            print.ArtMediaType,
            Enum.Parse<Place>(print.Place),
            print.WidthUm / 1000.0,
            print.FromSeamUm / 1000.0,
            print.FromCentreUm / 1000.0,
            print.Method,
            print.Background,
            print.Inks,
            onPress.Base,
            print.SizeGroup,
            [.. print.Words.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)]
        )
        {
            BlockingBase = onPress.BlockingBase,
            Press = onPress.Press,
            Options = print.Options.Length == 0 ? null : PrintOptions.Of(print.Options),
        };
    }

    private static string KeyOf(OrderPrint print) =>
        Layout.Words.Place(print.Place).Replace(' ', '-') + (print.Position == 0 ? "" : $"-{print.Position + 1}");
}

public sealed record ProofOrderLine(string GarmentId, string ColourId, ImmutableArray<ProofOrderCount> Counts)
{
    public int Pieces => Counts.Sum(c => c.Count);

    public static ProofOrderLine Of(OrderLine line) =>
        new(
            line.GarmentId,
            line.ColourId,
            [.. line.Counts.OrderBy(c => c.Position).Select(c => new ProofOrderCount(c.Size, c.Count))]
        );
}

public sealed record ProofOrderCount(string Size, int Count);
