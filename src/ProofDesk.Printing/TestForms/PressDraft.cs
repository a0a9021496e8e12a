using ProofDesk.Printing.Artworks;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.TestForms;

/// <summary>The press while its numbers are found one after another: later ones rest on earlier ones.</summary>
internal sealed class PressDraft(PressSettings usual)
{
    private readonly List<FittedNumber> _numbers = [];
    private readonly List<string> _unknown = [];

    /// <summary>The trade's defaults.</summary>
    public PressSettings Usual { get; } = usual;
    public PressSettings Press { get; set; } = usual;
    public List<Finding> Findings { get; } = [];

    public void CannotTell(string what) => _unknown.Add(what);

    public FittedPress Finish()
    {
        CannotTell(
            "wicking, wet trapping, how a later stroke transfers, how ragged edges are: the trade's defaults stay"
        );
        CannotTell(
            "other cloth than the one printed, and how the press changes as squeegee and mesh wear: print the form again"
        );
        var worst = _numbers.Count == 0 ? Usual.DataClass : _numbers.Max(n => n.DataClass);
        return new(Press with { DataClass = worst }, [.. _numbers], [.. _unknown], [.. Findings]);
    }

    public void Add(
        string name,
        string words,
        double was,
        double value,
        string unit,
        IEnumerable<ReadBy> by,
        double? residual,
        string from
    ) =>
        _numbers.Add(
            new(name, words, was, value, unit, by.All(b => b != ReadBy.Eye) ? DataClass.A : DataClass.B, residual, from)
        );

    public static double? Deviation(List<double> values)
    {
        if (values.Count < 2)
            return null;
        var mean = values.Average();
        return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Count - 1));
    }

    public static double Median(List<double> values)
    {
        var sorted = values.Order().ToList();
        return (sorted[(sorted.Count - 1) / 2] + sorted[sorted.Count / 2]) / 2;
    }

    public static string Count(int count, string what) =>
        $"{count} {what}{(count == 1 ? "" : what.EndsWith('s') ? "es" : "s")}";
}
