using Xunit.Abstractions;

namespace ProofDesk.Adapters.Tests.Database;

/// <summary>SIGKILL at every numbered point and at moments nobody chose; docs/approval-log.md says what may and may not be missing.</summary>
public sealed class KillTests(ITestOutputHelper output)
{
    private const int LongKills = 500;

    private static bool Long => Environment.GetEnvironmentVariable("PROOFDESK_LONG") == "1";

    /// <summary>
    /// Lost, doubled or forged decisions, lost mails, broken logs, half files: none after any kill. The short run picks points from
    /// the whole way, migration and backup included; the long one takes every point, over and over, and as many moments between.
    /// </summary>
    [Fact]
    public async Task Killed_anywhere_the_house_keeps_every_promise()
    {
        using var house = new KilledHouse();
        var kills = 0;
        foreach (var point in Long ? Enumerable.Range(1, 10_000) : [9, 37, 55])
        {
            if (!house.DieAt(point))
            {
                if (!Long)
                {
                    continue;
                }
                break;
            }
            kills++;
            Assert.Equal([], await house.BrokenAsync());
        }
        var random = new Random(1);
        var points = kills;
        var wanted = Long ? LongKills : kills + 1;
        while (kills < wanted)
        {
            if (Long && kills % 2 == 0)
            {
                house.DieAt(random.Next(points) + 1);
            }
            else
            {
                house.KillAfter(1 + random.Next(3), random.Next(60));
            }
            kills++;
            Assert.Equal([], await house.BrokenAsync());
        }

        output.WriteLine($"{kills} kills, {house.Acknowledged} decisions acknowledged, none lost, doubled or forged");
        foreach (var (point, times) in house.Deaths)
        {
            output.WriteLine($"{times, 5} {point}");
        }
        Assert.True(house.Acknowledged > 0);
    }
}
