using System.Diagnostics;
using Xunit.Abstractions;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>SIGKILL at every numbered point and at moments nobody chose; docs/approval-log.md says what may and may not be missing.</summary>
public sealed class KillTests(ITestOutputHelper output)
{
    private static readonly int LongKills = LongCounts.Of(500);

    // While the schema is made, each kill leaves less of it to do: so many starts reach the end.
    private const int KillsWhileMigrating = 6;
    private const int RandomKillsOfAHouse = 60;

    /// <summary>
    /// Lost, doubled or forged decisions, lost mails, broken logs, half files: none after any kill. Points from the whole way,
    /// migration and backup included, and one moment that nobody chose.
    /// </summary>
    [Fact]
    public async Task Killed_anywhere_the_house_keeps_every_promise()
    {
        using var house = new KilledHouse();
        var kills = 0;
        foreach (var point in new[] { 9, 37 })
        {
            if (house.DieAt(point))
            {
                kills++;
                Assert.Equal([], await house.BrokenAsync());
            }
        }
        house.KillAfter(2, 31);
        kills++;
        Assert.Equal([], await house.BrokenAsync());

        Assert.Equal(3, kills);
        Assert.True(house.Acknowledged > 0);
    }

    /// <summary>
    /// The long count: house after house, each killed while its schema is made, then at every numbered point from the first to the
    /// last, then at random moments, until 500 processes have died. The house is looked through after every kill.
    /// </summary>
    [SkippableFact]
    public async Task Killed_500_times_the_houses_keep_every_promise()
    {
        Skip.IfNot(LongCounts.Asked, "500 kills: PROOFDESK_LONG=1");
        var random = new Random(1);
        var begun = Stopwatch.StartNew();
        var toll = new KillToll();
        while (toll.Kills < LongKills)
        {
            using var house = new KilledHouse(QuickPrograms.Folder);
            for (var point = 1; point <= KillsWhileMigrating && toll.Kills < LongKills; point++)
            {
                await KilledAsync(house, house.DieAt(point));
            }
            for (var point = 1; toll.Kills < LongKills && await KilledAsync(house, house.DieAt(point)); point++) { }
            for (var kill = 0; kill < RandomKillsOfAHouse && toll.Kills < LongKills; kill++)
            {
                house.KillAfter(1 + random.Next(2), random.Next(60));
                await KilledAsync(house, true);
            }
            toll.Bury(house);
        }

        output.WriteLine($"{toll} in {begun.Elapsed.TotalMinutes:0.0} min");

        async Task<bool> KilledAsync(KilledHouse house, bool died)
        {
            toll.Kills += died ? 1 : 0;
            Assert.Equal([], await house.BrokenAsync());
            return died;
        }
    }
}
