using System.Diagnostics.Metrics;
using System.Globalization;
using System.Text;

namespace ProofDesk.Web.Operations;

/// <summary>
/// Adds up what the instruments of this process report, and writes it as OpenMetrics text 1.0. Only instruments with few labels are
/// taken: ours, and the server's answers by route, method and status.
/// </summary>
public sealed class MeasuredNumbers : IDisposable
{
    private static readonly double[] Seconds = [0.005, 0.02, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60, 120];
    private static readonly string[] KeptLabels =
    [
        "outcome",
        "reason",
        "http.route",
        "http.request.method",
        "http.response.status_code",
    ];

    private readonly MeterListener _listener = new();
    private readonly Lock _one = new();
    private readonly SortedDictionary<string, Family> _families = new(StringComparer.Ordinal);

    public MeasuredNumbers()
    {
        _listener.InstrumentPublished = (instrument, listener) =>
        {
            if (instrument.Meter.Name == "ProofDesk" || instrument.Name == "http.server.request.duration")
            {
                listener.EnableMeasurementEvents(instrument);
            }
        };
        _listener.SetMeasurementEventCallback<long>((i, value, labels, _) => Add(i, value, labels));
        _listener.SetMeasurementEventCallback<double>((i, value, labels, _) => Add(i, value, labels));
        _listener.Start();
    }

    /// <param name="gauges">name, help and value of what is read now</param>
    public string Text(IEnumerable<(string Name, string Help, double Value)> gauges)
    {
        var text = new StringBuilder();
        foreach (var (name, help, value) in gauges)
        {
            text.Append(CultureInfo.InvariantCulture, $"# TYPE {name} gauge\n# HELP {name} {help}\n{name} {value}\n");
        }
        lock (_one)
        {
            foreach (var (name, family) in _families)
            {
                family.Write(name, text);
            }
        }
        return text.Append("# EOF\n").ToString();
    }

    public void Dispose() => _listener.Dispose();

    private void Add(Instrument instrument, double value, ReadOnlySpan<KeyValuePair<string, object?>> labels)
    {
        var name = instrument.Name.Replace('.', '_') + (instrument.Unit == "s" ? "_seconds" : "");
        var key = new StringBuilder();
        foreach (var (label, labelled) in labels)
        {
            if (KeptLabels.Contains(label))
            {
                key.Append(key.Length > 0 ? "," : "").Append(label.Replace('.', '_')).Append("=\"");
                key.Append(Escaped($"{labelled}")).Append('"');
            }
        }
        lock (_one)
        {
            if (!_families.TryGetValue(name, out var family))
            {
                _families[name] = family = new Family(instrument.Description ?? "", instrument is Histogram<double>);
            }
            family.Add(key.ToString(), value);
        }
    }

    private static string Escaped(string label) =>
        label
            .Replace("\\", "\\\\", StringComparison.Ordinal)
            .Replace("\"", "\\\"", StringComparison.Ordinal)
            .Replace("\n", "\\n", StringComparison.Ordinal);

    private sealed class Family(string help, bool isHistogram)
    {
        private readonly SortedDictionary<string, (long Count, double Sum, long[] Buckets)> _rows = new(
            StringComparer.Ordinal
        );

        public void Add(string labels, double value)
        {
            var row = _rows.TryGetValue(labels, out var had) ? had : (0, 0, new long[Seconds.Length]);
            for (var i = 0; i < Seconds.Length; i++)
            {
                row.Item3[i] += value <= Seconds[i] ? 1 : 0;
            }
            _rows[labels] = (row.Item1 + 1, row.Item2 + value, row.Item3);
        }

        public void Write(string name, StringBuilder text)
        {
            var type = isHistogram ? "histogram" : "counter";
            text.Append(CultureInfo.InvariantCulture, $"# TYPE {name} {type}\n# HELP {name} {help}\n");
            foreach (var (labels, (count, sum, buckets)) in _rows)
            {
                var braced = labels.Length > 0 ? $"{{{labels}}}" : "";
                if (!isHistogram)
                {
                    text.Append(CultureInfo.InvariantCulture, $"{name}_total{braced} {sum}\n");
                    continue;
                }
                var before = labels.Length > 0 ? labels + "," : "";
                for (var i = 0; i < Seconds.Length; i++)
                {
                    text.Append(
                        CultureInfo.InvariantCulture,
                        $"{name}_bucket{{{before}le=\"{Seconds[i]}\"}} {buckets[i]}\n"
                    );
                }
                text.Append(CultureInfo.InvariantCulture, $"{name}_bucket{{{before}le=\"+Inf\"}} {count}\n");
                text.Append(CultureInfo.InvariantCulture, $"{name}_sum{braced} {sum}\n{name}_count{braced} {count}\n");
            }
        }
    }
}
