using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class OrderBookTests
{
    [SkippableTheory, OnBothEngines]
    public async Task An_order_keeps_prints_lines_and_counts_in_their_order(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);

        var order = await shop.Orders.FindAsync(await shop.NewOrderAsync());

        Assert.Equal((1001, "Regatta tee", "Harbour Rowing Club"), (order!.Number, order.Title, order.Client!.Name));
        Assert.Equal(["Oars"], order.Prints.Select(print => print.Name));
        Assert.Equal([("M", 40), ("L", 25)], order.Lines.Single().Counts.Select(count => (count.Size, count.Count)));
        Assert.Equal(new DateOnly(2026, 12, 18), order.InHandsDate);
        Assert.Equal(TestShop.Start, order.CreatedAt);
    }

    [SkippableTheory, OnBothEngines]
    public async Task Orders_written_at_once_get_numbers_of_their_own(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);

        await Task.WhenAll(Enumerable.Range(0, 20).Select(_ => Task.Run(() => shop.NewOrderAsync())));

        await using var db = shop.Office.Open();
        Assert.Equal(
            Enumerable.Range(1001, 20),
            await db.Orders.OrderBy(row => row.Number).Select(row => row.Number).ToListAsync()
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task An_edit_of_an_order_somebody_else_changed_is_refused(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var id = await shop.NewOrderAsync();
        var seen = (await shop.Orders.FindAsync(id))!;

        var first = await shop.Orders.EditAsync(id, seen.RowVersion, Draft(seen, "First"), "anna");
        var second = await shop.Orders.EditAsync(id, seen.RowVersion, Draft(seen, "Second"), "bo");

        Assert.True(first);
        Assert.False(second);
        var order = (await shop.Orders.FindAsync(id))!;
        Assert.Equal(("First", 1, 1), (order.Title, order.Prints.Count, order.Lines.Count));
        Assert.Equal("back", order.Prints[0].Place);
    }

    [SkippableTheory, OnBothEngines]
    public async Task The_three_lists_follow_whose_turn_it_is_by_in_hands_date(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var late = await shop.NewOrderAsync("Late");
        var soon = await shop.NewOrderAsync("Soon");
        var undated = await shop.NewOrderAsync("Undated");
        await DateAsync(shop, late, new DateOnly(2027, 2, 1));
        await DateAsync(shop, undated, null);
        await shop.SentVersionAsync(await shop.NewOrderAsync("Theirs"));
        var ready = await shop.SentVersionAsync(await shop.NewOrderAsync("Ready"));
        await shop.Deciding.DecideAsync(TestShop.Approval(ready));

        Assert.Equal(
            ["Soon", "Late", "Undated"],
            (await shop.Orders.ListAsync(OrderState.WaitingForUs)).Select(card => card.Title)
        );
        var theirs = Assert.Single(await shop.Orders.ListAsync(OrderState.WaitingForThem));
        Assert.Equal(
            ("Theirs", 1, VersionState.Sent, false),
            (theirs.Title, theirs.NewestVersion, theirs.NewestVersionState, theirs.MailTrouble)
        );
        Assert.Equal("Ready", Assert.Single(await shop.Orders.ListAsync(OrderState.ReadyToBurn)).Title);
        Assert.NotEqual(late, soon);
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_new_date_leaves_an_approved_order_ready_and_a_new_width_brings_it_back(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var id = await shop.NewOrderAsync();
        await shop.Deciding.DecideAsync(TestShop.Approval(await shop.SentVersionAsync(id)));
        var order = (await shop.Orders.FindAsync(id))!;
        OrderPrint Same(int widthUm) =>
            new()
            {
                Name = "Oars",
                ArtSha256 = TestShop.ArtSha256,
                ArtFileName = "oars.svg",
                Place = "front",
                FromSeamUm = 75_000,
                WidthUm = widthUm,
                Method = "plastisol",
            };
        OrderLine Line() =>
            new()
            {
                GarmentId = "tee",
                ColourId = "navy",
                Counts = [new LineCount { Size = "M", Count = 40 }, new LineCount { Size = "L", Count = 25 }],
            };
        OrderDraft Edited(int widthUm) =>
            new("Regatta tee", order.ClientId, new DateOnly(2027, 1, 8), null, "call first", [Same(widthUm)], [Line()]);

        Assert.True(await shop.Orders.EditAsync(id, order.RowVersion, Edited(280_000), "anna"));
        var dated = (await shop.Orders.FindAsync(id))!;
        Assert.True(await shop.Orders.EditAsync(id, dated.RowVersion, Edited(260_000), "anna"));
        var wider = (await shop.Orders.FindAsync(id))!;

        Assert.Equal((OrderState.ReadyToBurn, new DateOnly(2027, 1, 8)), (dated.State, dated.InHandsDate!.Value));
        Assert.Equal(OrderState.WaitingForUs, wider.State);
    }

    private static OrderDraft Draft(Order order, string title) =>
        new(
            title,
            order.ClientId,
            order.InHandsDate,
            order.ApproveByDate,
            "",
            [
                new OrderPrint
                {
                    Name = "Crest",
                    ArtSha256 = new string('b', 64),
                    ArtFileName = "crest.png",
                    Place = "back",
                    WidthUm = 300_000,
                    Method = "water-based",
                },
            ],
            [new OrderLine { GarmentId = "tee", ColourId = "white" }]
        );

    private static Task<int> DateAsync(TestShop shop, Guid order, DateOnly? date) =>
        shop.Office.WriteAsync(db =>
            db.Orders.Where(row => row.Id == order)
                .ExecuteUpdateAsync(set => set.SetProperty(row => row.InHandsDate, date))
        );
}
