using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Sheets;
using ProofDesk.Adapters.Tests.Database;
using ProofDesk.Adapters.Work;

namespace ProofDesk.Adapters.Tests.Work;

/// <summary>Cells of compare sheets as work, links and preferences as rows, on both engines.</summary>
public sealed class CellQueueTests
{
    private static readonly CancellationToken None = CancellationToken.None;

    [SkippableTheory, OnBothEngines]
    public async Task A_silent_workers_cell_is_taken_over_and_its_late_result_is_thrown_away(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.Get<SheetBook>().AddAsync(Sheet(1), "anna");
        var queue = shop.Get<CellQueue>();
        var slow = (await queue.ClaimAsync("slow", None))!;
        Assert.Null(await queue.ClaimAsync("quick", None));
        shop.Time.Advance(RenderQueue.Lease + TimeSpan.FromSeconds(1));

        var quick = (await queue.ClaimAsync("quick", None))!;
        await queue.FinishAsync(slow, Hex('a'), Hex('a'), "{}", None);
        var lateReport = await queue.ReportAsync(slow, null, None);
        var between = await CellAsync(shop, quick.CellId);
        await queue.FinishAsync(quick, Hex('b'), Hex('c'), "{}", None);

        Assert.Equal((slow.CellId, slow.Run + 1), (quick.CellId, quick.Run));
        Assert.False(lateReport);
        Assert.Equal((CellState.Running, (string?)null), (between.State, between.PrintSha256));
        var made = await CellAsync(shop, quick.CellId);
        Assert.Equal((CellState.Done, Hex('b'), Hex('c')), (made.State, made.PrintSha256, made.GarmentSha256));
    }

    [SkippableTheory, OnBothEngines]
    public async Task Cells_are_made_from_the_top_left_and_one_that_breaks_five_times_waits_to_be_asked_again(
        Engine engine
    )
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var sheet = Sheet(2);
        await shop.Get<SheetBook>().AddAsync(sheet, "anna");
        var queue = shop.Get<CellQueue>();

        for (var attempt = 0; attempt < RenderQueue.MostAttempts; attempt++)
        {
            var job = (await queue.ClaimAsync("one", None))!;
            Assert.Equal(sheet.Cells[0].Id, job.CellId);
            await queue.BrokenAsync(job, "no room on the disk", None);
            if (attempt == 0)
            {
                // While it waits the next one is made.
                var next = (await queue.ClaimAsync("one", None))!;
                Assert.Equal(sheet.Cells[1].Id, next.CellId);
                await queue.CannotAsync(next, "no polyester", None);
            }
            shop.Time.Advance(TimeSpan.FromMinutes(1));
        }
        var broken = await CellAsync(shop, sheet.Cells[0].Id);
        Assert.Null(await queue.ClaimAsync("one", None));
        await shop.Get<SheetBook>().TryAgainAsync(sheet.Id, "anna");
        var again = await queue.ClaimAsync("one", None);

        Assert.Equal((CellState.Failed, "no room on the disk"), (broken.State, broken.Error));
        Assert.Equal((sheet.Cells[0].Id, 1), (again?.CellId, again?.Attempt));
        Assert.Equal(CellState.Cannot, (await CellAsync(shop, sheet.Cells[1].Id)).State);
    }

    [SkippableTheory, OnBothEngines]
    public async Task Stopping_leaves_what_nobody_has_begun(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var sheet = Sheet(3);
        await shop.Get<SheetBook>().AddAsync(sheet, "anna");
        var job = (await shop.Get<CellQueue>().ClaimAsync("one", None))!;

        await shop.Get<SheetBook>().StopAsync(sheet.Id, "anna");
        await shop.Get<CellQueue>().FinishAsync(job, Hex('b'), Hex('c'), "{}", None);

        var states = (await shop.Get<SheetBook>().FindAsync(sheet.Id))!.Cells.Select(cell => cell.State);
        Assert.Equal([CellState.Done, CellState.Cancelled, CellState.Cancelled], states);
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_link_keeps_its_newest_preference_and_none_when_it_is_closed(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var sheet = Sheet(2);
        sheet.Cells[0].State = CellState.Done;
        await shop.Get<SheetBook>().AddAsync(sheet, "anna");
        var links = shop.Get<SheetLinks>();
        var token = (await links.GiveAsync(sheet.Id, "the crew", 14, "anna"))!;
        var open = Assert.IsType<SheetOpening.Open>(await links.OpenAsync(token));

        Assert.True(await links.PreferAsync(open.LinkId, sheet.Cells[0].Id, "Kim", "first"));
        Assert.True(await links.PreferAsync(open.LinkId, sheet.Cells[0].Id, "Kim", "second"));
        Assert.False(await links.PreferAsync(open.LinkId, sheet.Cells[1].Id, "Kim", "not made yet"));
        Assert.False(await links.PreferAsync(Guid.NewGuid(), sheet.Cells[0].Id, "Kim", "no such link"));
        shop.Time.Advance(TimeSpan.FromDays(15));
        Assert.False(await links.PreferAsync(open.LinkId, sheet.Cells[0].Id, "Kim", "too late"));

        Assert.Equal("second", Assert.Single(await links.PreferencesAsync(sheet.Id)).Words);
        Assert.Equal(new SheetOpening.Gone(Revoked: false), await links.OpenAsync(token));
    }

    private static CompareSheet Sheet(int cells) =>
        new()
        {
            Title = "methods",
            ArtSha256 = TestShop.ArtSha256,
            ArtFileName = "crest.svg",
            ArtMediaType = "image/svg+xml",
            RequestJson = "{}",
            Cells =
            [
                .. Enumerable
                    .Range(0, cells)
                    .Select(i => new SheetCell
                    {
                        Position = i,
                        Method = "plastisol",
                        GarmentId = "tee",
                        ColourId = "black",
                    }),
            ],
        };

    private static string Hex(char digit) => new(digit, 64);

    private static async Task<SheetCell> CellAsync(TestShop shop, Guid id)
    {
        await using var db = shop.Office.Open();
        return await db.SheetCells.AsNoTracking().SingleAsync(row => row.Id == id);
    }
}
