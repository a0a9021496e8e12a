using System.Diagnostics;
using System.Globalization;
using ProofDesk.Printing.Proofs;

namespace Benchmarks;

/// <summary>Wall and processor seconds of each step that is told, and of all together.</summary>
internal sealed class StageClock : IProgress<ProofProgress>
{
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly TimeSpan _processor = Processor();
    private readonly List<string> _lines = [];
    private string? _step;
    private TimeSpan _wallThen;
    private TimeSpan _processorThen;

    internal IReadOnlyList<string> Lines => _lines;

    public void Report(ProofProgress value)
    {
        if (value.Step != _step && value.Step != "finished")
            Begin(value.Step);
    }

    internal void Begin(string step)
    {
        Close();
        (_step, _wallThen, _processorThen) = (step, _clock.Elapsed, Processor());
    }

    /// <returns>Seconds since the beginning.</returns>
    internal (double Wall, double Processor) End()
    {
        Close();
        _step = null;
        return (_clock.Elapsed.TotalSeconds, (Processor() - _processor).TotalSeconds);
    }

    private void Close()
    {
        if (_step is null)
            return;
        var (wall, processor) = (_clock.Elapsed - _wallThen, Processor() - _processorThen);
        _lines.Add(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{_step, -24} {wall.TotalSeconds, 6:0.00} s   processor {processor.TotalSeconds, 6:0.00} s"
            )
        );
    }

    private static TimeSpan Processor()
    {
        using var self = Process.GetCurrentProcess();
        return self.TotalProcessorTime;
    }
}
