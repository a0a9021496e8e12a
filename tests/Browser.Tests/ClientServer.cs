using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Judges;
using ProofDesk.Web.Orders;
using ProofDesk.Web.Renders;
using ProofDesk.Web.Tests;

namespace Browser.Tests;

/// <summary>
/// A client's order with everything the client's pages can have: two prints, three garments, names and numbers. It is sent as
/// many times: once to look at, and for each way of approving.
/// </summary>
public sealed class ClientServer : RunningServer
{
    public const int RosterLines = 3;

    /// <summary>"/r/..." of each order.</summary>
    public IReadOnlyList<string> Links { get; private set; } = [];

    /// <summary>Pictures as large as a shop's, for figures.</summary>
    private static bool IsLifeSize => LongCounts.Asked;

    protected override IEnumerable<string> Settings =>
        [
            "--Server:PseudoLanguage=true",
            .. IsLifeSize ? new[] { "--Server:GarmentPixelsPerMm=2", "--Server:FilmDpi=720" } : [],
        ];

    public override async Task InitializeAsync()
    {
        await base.InitializeAsync();
        var links = new List<string>();
        Guid? first = null;
        for (var crew = 0; crew <= ClientPagesTests.ByKeyboard().Count; crew++)
        {
            // All others repeat the first: they are made of its files, without a render.
            var version = await FinishedAsync(await OrderAsync($"Regatta crew {10 + crew}", first));
            first ??= version;
            links.Add(await SentLinkAsync(version));
        }
        Links = links;
    }

    private async Task<Guid> OrderAsync(string title, Guid? repeated)
    {
        await using var scope = App.Services.CreateAsyncScope();
        var files = scope.ServiceProvider.GetRequiredService<IFileStore>();
        var book = scope.ServiceProvider.GetRequiredService<OrderBook>();
        var client = await book.AddClientAsync("Harbour Rowing Club", "kim@harbour-rowing.example", "", "a test");
        var chest = await ArtAsync(files, "left-chest-mark.svg");
        var order = await book.CreateAsync(
            new OrderDraft(
                title,
                client,
                new DateOnly(2027, 3, 19),
                new DateOnly(2027, 3, 5),
                "",
                [
                    new OrderPrint
                    {
                        Name = "left chest",
                        ArtSha256 = chest,
                        ArtFileName = "left-chest-mark.svg",
                        ArtMediaType = "image/svg+xml",
                        Place = "LeftChest",
                        FromSeamUm = 85_000,
                        FromCentreUm = 105_000,
                        WidthUm = 50_000,
                        Method = "plastisol",
                        Words = "HARBOUR\nROWING CLUB 1O0",
                    },
                    new OrderPrint
                    {
                        Name = "back",
                        Position = 1,
                        ArtSha256 = chest,
                        ArtFileName = "left-chest-mark.svg",
                        ArtMediaType = "image/svg+xml",
                        Place = "Back",
                        FromSeamUm = 90_000,
                        FromCentreUm = 0,
                        WidthUm = 80_000,
                        Method = "vinyl",
                        Words = "HARBOUR",
                        Options = new PrintOptions
                        {
                            Roster = "name,number,size\nREED,07,M\nSTRAND,10,M\nIlves,1,L",
                        }.ToJson(),
                    },
                ],
                [Line("tee", "black", "M", "2XL"), Line("tee", "white", "S", "M"), Line("hoodie", "navy", "L", "XL")]
            ),
            "a test"
        );
        await ReadAsync(db =>
            db.Orders.Where(o => o.Id == order)
                .ExecuteUpdateAsync(s => s.SetProperty(o => o.RepeatOfVersionId, repeated))
        );
        await scope
            .ServiceProvider.GetRequiredService<RenderRequests>()
            .AskAsync(order, "a test", CancellationToken.None);
        return order;
    }

    private static async Task<string> ArtAsync(IFileStore files, string name)
    {
        await using var bytes = File.OpenRead(Path.Combine(AppContext.BaseDirectory, "SampleArt", name));
        return (await files.PutAsync(bytes)).Sha256;
    }

    private static OrderLine Line(string garment, string colour, params string[] sizes) =>
        new()
        {
            GarmentId = garment,
            ColourId = colour,
            Counts = [.. sizes.Select(size => new LineCount { Size = size, Count = 6 })],
        };

    public Task<string> LocaleOfDecisionAsync(Guid decision) =>
        ReadAsync(async db =>
            KeptStatement.Of(await db.Decisions.AsNoTracking().SingleAsync(d => d.Id == decision)).Locale
        );
}
