using System.Diagnostics;
using System.Diagnostics.Metrics;

namespace ProofDesk.Web.Tests.Racing;

/// <summary>Forms that were filled and looked over, sent at one moment or so many at a time, and what came back.</summary>
internal sealed class Race
{
    private readonly Page[] _answers;
    private readonly double[] _milliseconds;

    private Race(Page[] answers, double[] milliseconds, long busy) =>
        (_answers, _milliseconds, Busy) = (answers, milliseconds, busy);

    public IReadOnlyList<Page> Answers => _answers;

    /// <summary>Write transactions that were given up because the database was held.</summary>
    public long Busy { get; }

    /// <param name="AtOnce">how many are on their way at the same time</param>
    public static async Task<Race> RunAsync(IReadOnlyList<(Visitor Who, Page LastLook)> racers, int atOnce)
    {
        long busy = 0;
        using var meter = new MeterListener
        {
            InstrumentPublished = (instrument, listener) =>
            {
                if (instrument.Name == "proofdesk.write.refused")
                    listener.EnableMeasurementEvents(instrument);
            },
        };
        meter.SetMeasurementEventCallback<long>((_, more, _, _) => Interlocked.Add(ref busy, more));
        meter.Start();
        var answers = new Page[racers.Count];
        var milliseconds = new double[racers.Count];
        using var room = new SemaphoreSlim(atOnce);
        await Task.WhenAll(
            racers.Select(
                async (racer, at) =>
                {
                    await room.WaitAsync();
                    var begun = Stopwatch.GetTimestamp();
                    answers[at] = await racer.Who.PostAsync(racer.LastLook, form: racer.LastLook.Forms.Count - 1);
                    milliseconds[at] = Stopwatch.GetElapsedTime(begun).TotalMilliseconds;
                    room.Release();
                }
            )
        );
        return new Race(answers, milliseconds, busy);
    }

    public override string ToString()
    {
        var sorted = _milliseconds.Order().ToArray();
        var by = _answers.GroupBy(page => (int)page.Status).OrderBy(group => group.Key);
        return $"{_answers.Length} decisions: {string.Join(", ", by.Select(group => $"{group.Count()} x {group.Key}"))}; "
            + $"p50 {At(sorted, .5):0} ms, p99 {At(sorted, .99):0} ms, slowest {sorted[^1]:0} ms; {Busy} writes refused as busy";
    }

    private static double At(double[] sorted, double share) =>
        sorted[Math.Min(sorted.Length - 1, (int)(share * sorted.Length))];
}
