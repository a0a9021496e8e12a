using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>Tries that a restart does not forget (condition W8).</summary>
public sealed class TryCountTests
{
    private static readonly TryLimit Password = new GrowingLimit("sign-in", "kim@lindhag.example");
    private static readonly TryLimit Network = new WindowLimit("network", "192.0.2.7", 3, TimeSpan.FromMinutes(15));

    [SkippableTheory]
    [OnBothEngines]
    public async Task Five_at_once_then_a_minute_and_each_wait_doubles_also_after_a_restart(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        for (var n = 0; n < GrowingLimit.AtOnce; n++)
            Assert.Null(await shop.Get<TryCounts>().TakeAsync([Password]));

        await shop.RestartAsync();
        var first = await shop.Get<TryCounts>().TakeAsync([Password]);
        shop.Time.Advance(TimeSpan.FromMinutes(1));
        var opened = await shop.Get<TryCounts>().TakeAsync([Password]);
        var second = await shop.Get<TryCounts>().TakeAsync([Password]);

        Assert.Equal(TestShop.Start.AddMinutes(1), first);
        Assert.Null(opened);
        Assert.Equal(TestShop.Start.AddMinutes(1 + 2), second);
    }

    [SkippableTheory]
    [OnBothEngines]
    public async Task Fifty_guesses_at_once_are_still_five(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);

        var answers = await Task.WhenAll(
            Enumerable.Range(0, 50).Select(_ => Task.Run(() => shop.Get<TryCounts>().TakeAsync([Password])))
        );

        Assert.Equal(GrowingLimit.AtOnce, answers.Count(opens => opens is null));
    }

    [SkippableTheory]
    [OnBothEngines]
    public async Task A_right_answer_ends_the_row_of_failures_and_gives_the_window_its_try_back(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var tries = shop.Get<TryCounts>();
        for (var n = 0; n < 2; n++)
            await tries.TakeAsync([Password, Network]);

        await tries.TakeAsync([Password, Network]);
        await tries.GiveBackAsync([Password, Network]);
        var third = await tries.TakeAsync([Network]);
        var fourth = await tries.TakeAsync([Network, Password]);

        Assert.Null(third);
        Assert.Equal(TestShop.Start.AddMinutes(15), fourth);
        await using var db = shop.Office.Open();
        Assert.Equal(3, (await db.RateCounts.SingleAsync()).Count);
        Assert.Null(await tries.LookAsync(Password));
    }

    [SkippableTheory]
    [OnBothEngines]
    public async Task What_was_typed_stands_nowhere_and_is_forgotten_after_a_month(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var tries = shop.Get<TryCounts>();
        await tries.TakeAsync([new GrowingLimit("sign-in", "my secret in the wrong field")]);

        await using var db = shop.Office.Open();
        var key = (await db.RateCounts.AsNoTracking().SingleAsync()).Key;
        shop.Time.Advance(TimeSpan.FromDays(31));
        await tries.ForgetAsync();

        Assert.Matches("^sign-in:[0-9a-f]{32}$", key);
        Assert.Empty(await db.RateCounts.ToListAsync());
    }

    [Theory]
    [InlineData(4, 0)]
    [InlineData(5, 1)]
    [InlineData(6, 2)]
    [InlineData(10, 32)]
    [InlineData(11, 60)]
    [InlineData(99, 60)]
    [InlineData(100, 1440)]
    [InlineData(int.MaxValue, 1440)]
    public void Waits_double_up_to_an_hour_and_from_the_hundredth_on_are_a_day(int tries, int minutes) =>
        Assert.Equal(TimeSpan.FromMinutes(minutes), GrowingLimit.WaitAfter(tries));
}
