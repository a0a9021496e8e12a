using System.Diagnostics;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Tests.Database;

public sealed class OrderListTests
{
    private static readonly OrderState[] All =
    [
        OrderState.WaitingForUs,
        OrderState.WaitingForThem,
        OrderState.ReadyToBurn,
        OrderState.Closed,
    ];

    [SkippableTheory, OnBothEngines]
    public async Task Orders_are_found_by_number_words_in_any_case_and_days(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await AddAsync(shop, ("Élan sweaters", "Ökologie e. V.", new DateOnly(2026, 12, 1)));
        await AddAsync(shop, ("Regatta tee", "Harbour Rowing Club", new DateOnly(2026, 12, 18)));
        await AddAsync(shop, ("100 % wool", "Club_A", null));

        Assert.Equal(["Élan sweaters"], await FindAsync(shop, new("élan")));
        Assert.Equal(["Élan sweaters"], await FindAsync(shop, new("ÖKOLOGIE")));
        Assert.Equal(["Regatta tee"], await FindAsync(shop, new("rEGATTA")));
        Assert.Equal(["Regatta tee"], await FindAsync(shop, new("1002")));
        Assert.Equal(["100 % wool"], await FindAsync(shop, new("100 %")));
        Assert.Equal(["100 % wool"], await FindAsync(shop, new("b_a")));
        Assert.Equal(["Regatta tee"], await FindAsync(shop, new("1002/front/1/1/3F2A-91C0")));
        Assert.Equal(["Élan sweaters"], await FindAsync(shop, new("", To: new DateOnly(2026, 12, 10))));
        Assert.Equal(
            ["Regatta tee"],
            await FindAsync(shop, new("", new DateOnly(2026, 12, 2), new DateOnly(2026, 12, 18)))
        );
        Assert.Equal([], await FindAsync(shop, new("nobody's")));
    }

    [SkippableTheory, OnBothEngines]
    public async Task The_start_of_any_digest_finds_its_order(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.NewOrderAsync("Another");
        var proof = await shop.SentVersionAsync(await shop.NewOrderAsync("Signed"));
        await shop.Deciding.DecideAsync(TestShop.Approval(proof));
        await using var db = shop.Office.Open();
        var film = await db.VersionFiles.Where(f => f.Path.EndsWith(".tif")).Select(f => f.Sha256).SingleAsync();
        var statement = await db.Decisions.Select(d => d.StatementSha256).SingleAsync();

        foreach (var digest in new[] { proof.Manifest, film, statement })
        {
            Assert.Equal(["Signed"], await FindAsync(shop, new(digest[..12])));
            Assert.Equal(["Signed"], await FindAsync(shop, new($"{digest[..4]} {digest[4..8]}".ToUpperInvariant())));
        }
        Assert.Equal([], await FindAsync(shop, new(proof.Manifest[1..13])));
        Assert.Equal([], await FindAsync(shop, new(proof.Manifest[..(OrderWish.LeastDigest - 1)])));
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_row_says_whose_turn_it_is_and_what_happened(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine, settings => settings.HoldMinutes = 0);
        var changes = await shop.SentVersionAsync(await shop.NewOrderAsync("Changes"));
        await shop.Deciding.DecideAsync(TestShop.Changes(changes));
        var ready = await shop.SentVersionAsync(await shop.NewOrderAsync("Ready"));
        await shop.Deciding.DecideAsync(TestShop.Approval(ready, "n2"));
        var done = await shop.NewOrderAsync("Done");
        await shop.Orders.CloseAsync(done, "anna");

        var parts = await shop.Get<OrderList>().FindAsync(new(), All, 1, 10);

        var us = Assert.Single(parts[0].Rows);
        Assert.Equal(
            ("Changes", "Kim Harbour", VersionState.Decided, 65),
            (us.Title, us.Asks, us.Newest!.State, us.Pieces)
        );
        Assert.Equal(0, parts[1].Count);
        var burn = Assert.Single(parts[2].Rows);
        Assert.Equal(("Ready", (string?)null, 1), (burn.Title, burn.Asks, burn.Newest!.Number));
        Assert.Empty(burn.Happened);
        Assert.Equal("Done", Assert.Single(parts[3].Rows).Title);
        await shop.Orders.ReopenAsync(done, "anna");
        Assert.Equal(2, (await shop.Get<OrderList>().FindAsync(new(), All, 1, 10))[0].Count);
    }

    [SkippableTheory, OnBothEngines]
    public async Task Three_hundred_orders_take_as_many_commands_as_three(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await AddAsync(shop, ("a", "b", null), ("c", "d", new DateOnly(2026, 12, 1)), ("e", "f", null));
        var few = await CommandsAsync(() => shop.Get<OrderList>().FindAsync(new(), All, 1, 50));
        await AddAsync(
            shop,
            [
                .. Enumerable
                    .Range(0, 297)
                    .Select(i => ($"Order {i}", $"Client {i % 30}", (DateOnly?)new DateOnly(2027, 1, 1).AddDays(i))),
            ]
        );

        IReadOnlyList<OrderPart> parts = [];
        var many = await CommandsAsync(async () => parts = await shop.Get<OrderList>().FindAsync(new(), All, 6, 50));

        Assert.Equal((few, 6), (many, many));
        Assert.Equal((300, 6, 6, 50), (parts[0].Count, parts[0].Page, parts[0].Pages, parts[0].Rows.Count));
        Assert.Equal(["a", "e"], parts[0].Rows.TakeLast(2).Select(row => row.Title));
        Assert.Equal(
            ["c", "Order 0"],
            (await shop.Get<OrderList>().FindAsync(new(), All, 1, 50))[0].Rows.Take(2).Select(row => row.Title)
        );
    }

    private static async Task<IEnumerable<string>> FindAsync(TestShop shop, OrderWish wish) =>
        (await shop.Get<OrderList>().FindAsync(wish, All, 1, 50))
            .SelectMany(part => part.Rows)
            .Select(row => row.Title);

    private static Task AddAsync(TestShop shop, params (string Title, string Client, DateOnly? InHands)[] orders) =>
        shop.Office.WriteAsync(async db =>
        {
            var number = await db.Orders.MaxAsync(row => (int?)row.Number) ?? 1000;
            foreach (var (title, client, inHands) in orders)
            {
                db.Orders.Add(
                    new Order
                    {
                        Number = ++number,
                        Title = title,
                        Client = new Client { Name = client, Email = "a@b.example" },
                        InHandsDate = inHands,
                        CreatedAt = TestShop.Start,
                    }
                );
            }
            await db.SaveChangesAsync();
        });

    /// <summary>Commands that this flow of calls sends; other tests run beside it.</summary>
    private static async Task<int> CommandsAsync(Func<Task> work)
    {
        using var counted = new CountedCommands();
        await work();
        return counted.Count;
    }

    private sealed class CountedCommands
        : IObserver<DiagnosticListener>,
            IObserver<KeyValuePair<string, object?>>,
            IDisposable
    {
        private readonly AsyncLocal<bool> _here = new() { Value = true };
        private readonly List<IDisposable> _ends = [];

        public CountedCommands() => _ends.Add(DiagnosticListener.AllListeners.Subscribe(this));

        public int Count { get; private set; }

        public void OnNext(DiagnosticListener value)
        {
            if (value.Name == DbLoggerCategory.Name)
            {
                _ends.Add(value.Subscribe(this));
            }
        }

        public void OnNext(KeyValuePair<string, object?> value)
        {
            if (_here.Value && value.Key.EndsWith("CommandExecuting", StringComparison.Ordinal))
            {
                Count++;
            }
        }

        public void OnCompleted() { }

        public void OnError(Exception error) { }

        public void Dispose() => _ends.ForEach(end => end.Dispose());
    }
}
