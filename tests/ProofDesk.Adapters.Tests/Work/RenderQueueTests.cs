using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Tests.Database;
using ProofDesk.Adapters.Work;

namespace ProofDesk.Adapters.Tests.Work;

public sealed class RenderQueueTests
{
    private static readonly CancellationToken None = CancellationToken.None;

    [SkippableTheory, OnBothEngines]
    public async Task A_silent_workers_render_is_taken_over_and_its_late_result_is_thrown_away(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.Renders.AskAsync(await shop.NewOrderAsync(), "{}", "anna");
        var slow = (await shop.Renders.ClaimAsync("slow", None))!;
        Assert.Null(await shop.Renders.ClaimAsync("quick", None));
        shop.Time.Advance(RenderQueue.Lease + TimeSpan.FromSeconds(1));

        var quick = (await shop.Renders.ClaimAsync("quick", None))!;
        var late = await shop.Get<Freezing>().FreezeAsync(slow, SampleProof.Done(slow));
        var lateReport = await shop.Renders.ReportAsync(slow, new RenderProgress("inks", 50), None);
        var lateEnd = await shop.Renders.GiveUpAsync(slow, RenderState.Failed, "late", "[]", None);
        var good = await shop.Get<Freezing>().FreezeAsync(quick, SampleProof.Done(quick));

        Assert.Equal((slow.WorkId, slow.Run + 1), (quick.WorkId, quick.Run));
        Assert.Equal((false, false, false, true), (late, lateReport, lateEnd, good));
        Assert.Equal(1, await shop.CountAsync<LogLeaf>());
        Assert.Equal(2, await shop.CountAsync<VersionFile>());
        Assert.False(await shop.Get<Freezing>().FreezeAsync(quick, SampleProof.Done(quick)));
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_report_renews_the_lease(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var version = await shop.Renders.AskAsync(await shop.NewOrderAsync(), "{}", "anna");
        var job = (await shop.Renders.ClaimAsync("one", None))!;

        for (var beat = 0; beat < 10; beat++)
        {
            shop.Time.Advance(TimeSpan.FromSeconds(45));
            Assert.True(await shop.Renders.ReportAsync(job, new RenderProgress($"ink {beat}", beat * 10), None));
            Assert.Null(await shop.Renders.ClaimAsync("two", None));
        }

        var view = (await shop.Renders.ViewAsync(version))!;
        Assert.Equal(
            (RenderState.Running, "ink 9", 90, 11),
            (view.State, view.Stage, view.PercentDone, view.ProgressNumber)
        );
    }

    [SkippableTheory, OnBothEngines]
    public async Task Sixteen_workers_never_claim_the_same_render(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var order = await shop.NewOrderAsync();
        for (var at = 0; at < 30; at++)
        {
            await shop.Renders.AskAsync(order, "{}", "anna");
        }

        var claimed = await Task.WhenAll(
            Enumerable
                .Range(0, 16)
                .Select(worker =>
                    Task.Run(async () =>
                    {
                        var mine = new List<Guid>();
                        // A claim may find its row taken between look and lock and answer "nothing"; a worker asks again.
                        for (var empty = 0; empty < 5; )
                        {
                            if (await shop.Renders.ClaimAsync($"worker {worker}", None) is { } job)
                            {
                                mine.Add(job.WorkId);
                            }
                            else
                            {
                                empty++;
                            }
                        }
                        return mine;
                    })
                )
        );

        var all = claimed.SelectMany(mine => mine).ToList();
        Assert.Equal(30, all.Count);
        Assert.Equal(30, all.Distinct().Count());
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_cancelled_render_stops_and_publishes_nothing(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var version = await shop.Renders.AskAsync(await shop.NewOrderAsync(), "{}", "anna");
        var job = (await shop.Renders.ClaimAsync("one", None))!;

        await shop.Renders.CancelAsync(version, "anna");

        Assert.False(await shop.Renders.ReportAsync(job, new RenderProgress("inks", 20), None));
        Assert.False(await shop.Get<Freezing>().FreezeAsync(job, SampleProof.Done(job)));
        Assert.True(await shop.Renders.GiveUpAsync(job, RenderState.Cancelled, "cancelled", "[]", None));
        await using var db = shop.Office.Open();
        var row = await db.ProofVersions.SingleAsync();
        Assert.Equal((VersionState.Failed, "cancelled"), (row.State, row.Error));
        Assert.Equal(RenderState.Cancelled, (await shop.Renders.ViewAsync(version))!.State);
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_render_cancelled_before_it_began_never_begins(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        var version = await shop.Renders.AskAsync(await shop.NewOrderAsync(), "{}", "anna");

        await shop.Renders.CancelAsync(version, "anna");

        Assert.Null(await shop.Renders.ClaimAsync("one", None));
        Assert.Equal("cancelled before it began", (await shop.Renders.ViewAsync(version))!.Error);
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_render_that_breaks_five_times_is_given_up_with_its_last_error(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        shop.Render = (job, _, _) => throw new InvalidDataException($"broken try {job.Attempt}");
        var version = await shop.Renders.AskAsync(await shop.NewOrderAsync(), "{}", "anna");
        var runner = shop.Get<RenderRunner>();

        for (var attempt = 1; attempt <= RenderQueue.MostAttempts; attempt++)
        {
            Assert.True(await runner.RunOneAsync("one", None), $"try {attempt}");
            shop.Time.Advance(TimeSpan.FromMinutes(1));
        }

        Assert.False(await runner.RunOneAsync("one", None));
        var view = (await shop.Renders.ViewAsync(version))!;
        Assert.Equal(
            (RenderState.Failed, "gave up after 5 tries; the last one said: broken try 5"),
            (view.State, view.Error)
        );
        await using var db = shop.Office.Open();
        Assert.Equal(VersionState.Failed, (await db.ProofVersions.SingleAsync()).State);
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_refused_render_is_not_tried_again_and_shows_its_reason(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        shop.Render = (_, _, _) =>
            Task.FromResult<RenderOutcome>(
                new RenderOutcome.Refused("the art has 9 colours, the press has 6 stations", "[{}]")
            );
        var version = await shop.Renders.AskAsync(await shop.NewOrderAsync(), "{}", "anna");

        await shop.Get<RenderRunner>().RunOneAsync("one", None);

        Assert.False(await shop.Get<RenderRunner>().RunOneAsync("one", None));
        Assert.Equal("the art has 9 colours, the press has 6 stations", (await shop.Renders.ViewAsync(version))!.Error);
    }

    [Fact]
    public async Task After_a_kill_the_next_start_renders_at_once_without_waiting_for_the_lease()
    {
        await using var shop = await TestShop.OpenAsync(Engine.Sqlite);
        var version = await shop.Renders.AskAsync(await shop.NewOrderAsync(), "{}", "anna");
        Assert.NotNull(await shop.Renders.ClaimAsync("killed", None));

        await shop.RestartAsync();

        Assert.True(await shop.Get<RenderRunner>().RunOneAsync("next", None));
        Assert.Equal(RenderState.Done, (await shop.Renders.ViewAsync(version))!.State);
    }

    [SkippableTheory, OnBothEngines]
    public async Task A_manifest_that_names_other_bytes_is_never_frozen(Engine engine)
    {
        await using var shop = await TestShop.OpenAsync(engine);
        await shop.Renders.AskAsync(await shop.NewOrderAsync(), "{}", "anna");
        var job = (await shop.Renders.ClaimAsync("one", None))!;
        var done = SampleProof.Done(job);
        var lying = done with
        {
            ManifestOf = stored =>
                done.ManifestOf([.. stored.Select(file => file with { Sha256 = new string('0', 64) })]),
        };

        var failure = await Assert.ThrowsAsync<InvalidDataException>(() =>
            shop.Get<Freezing>().FreezeAsync(job, lying)
        );

        Assert.Equal(
            "the manifest does not name the stored files; differing: plates/01-white.tif, proof/front.png",
            failure.Message
        );
        Assert.Equal(0, await shop.CountAsync<LogLeaf>());
    }
}
