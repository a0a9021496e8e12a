using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Files;
using ProofDesk.Printing.Artworks;
using ProofDesk.Web.Renders;
using ProofDesk.Web.SignIn;

namespace ProofDesk.Web.Start;

/// <summary>
/// Makes an empty server usable: the shop's row, the owner's one-time link, and one sample order with art of our own whose
/// render is queued. Every later start only prints where the desk is.
/// </summary>
public sealed class FirstStart(
    OfficeDb db,
    Office office,
    OrderBook book,
    IFileStore files,
    RenderRequests renders,
    OwnerLink owner,
    ServerSettings settings,
    TimeProvider time
)
{
    private const string Actor = "first start";
    private const string SampleArt = "SampleArt/rowing-crest.svg";

    public async Task RunAsync(TextWriter console)
    {
        await KeepShopAsync();
        if (settings.SampleOrder && !await db.Orders.AnyAsync())
            await AddSampleAsync();
        await console.WriteLineAsync($"desk: {settings.Link("/desk")}");
        if (settings.ResetOwner)
            await owner.ResetAsync();
        if (await owner.CurrentAsync() is { } link)
            await console.WriteLineAsync($"first password of {settings.OwnerEmail}, works once: {link}");
    }

    // The settings file is where a shop says who it is; the row is what mails and records read.
    private Task KeepShopAsync() =>
        office.WriteAsync(async writing =>
        {
            var shop = await writing.Shop.FirstOrDefaultAsync();
            if (shop is null)
                writing.Shop.Add(shop = new ShopSettings { Name = settings.ShopName });
            shop.Name = settings.ShopName;
            shop.Phone = settings.ShopContact;
            shop.ReplyTo = settings.OwnerEmail;
            shop.PublicBaseUrl = settings.PublicBaseUrl.TrimEnd('/');
            await writing.SaveChangesAsync();
        });

    private async Task AddSampleAsync()
    {
        var path = Path.Combine(AppContext.BaseDirectory, SampleArt);
        StoredBlob art;
        await using (var bytes = File.OpenRead(path))
            art = await files.PutAsync(bytes);
        var today = DateOnly.FromDateTime(time.GetUtcNow().UtcDateTime);
        var client = await book.AddClientAsync("Harbour Rowing Club", "crew@harbour-rowing.example", "", Actor);
        var orderId = await book.CreateAsync(
            new OrderDraft(
                "Regatta shirts",
                client,
                today.AddDays(21),
                today.AddDays(7),
                "",
                [
                    new OrderPrint
                    {
                        Name = "front",
                        ArtSha256 = art.Sha256,
                        ArtFileName = Path.GetFileName(SampleArt),
                        ArtMediaType = "image/svg+xml",
                        Place = nameof(Place.Front),
                        FromSeamUm = 75_000,
                        FromCentreUm = 0,
                        WidthUm = 280_000,
                        Method = "plastisol",
                        Words = "HARBOUR\nROWING CLUB",
                    },
                ],
                [
                    Line("tee", "black", ("S", 6), ("M", 14), ("L", 12), ("XL", 4)),
                    Line("tee", "white", ("M", 6), ("L", 6)),
                ]
            ),
            Actor
        );
        await renders.AskAsync(orderId, Actor, CancellationToken.None);
    }

    private static OrderLine Line(string garment, string colour, params (string Size, int Count)[] counts) =>
        new()
        {
            GarmentId = garment,
            ColourId = colour,
            Counts = [.. counts.Select(c => new LineCount { Size = c.Size, Count = c.Count })],
        };
}
