namespace ProofDesk.Adapters.Backups;

/// <summary>One thing that is not as it was sealed.</summary>
/// <param name="Code">stable, for programs: "blob.missing"</param>
/// <param name="Text">what, where, and what to do</param>
public sealed record StoreProblem(string Code, string Text);

/// <summary>What was looked at, and what is wrong with it.</summary>
public sealed record StoreReport(
    long Leaves,
    long Checkpoints,
    long Versions,
    long Decisions,
    long Events,
    long Files,
    long FileBytes,
    long Unreferenced,
    IReadOnlyList<StoreProblem> Problems
)
{
    public bool Whole => Problems.Count == 0;
}

/// <summary>Gathers while the checks run.</summary>
internal sealed class StoreFindings
{
    private readonly List<StoreProblem> _problems = [];
    private readonly Dictionary<string, long> _counts = new(StringComparer.Ordinal);

    public void Wrong(string code, string text) => _problems.Add(new StoreProblem(code, text));

    public void Count(string what, long many = 1) => _counts[what] = _counts.GetValueOrDefault(what) + many;

    public StoreReport Report() =>
        new(
            Of("leaves"),
            Of("checkpoints"),
            Of("versions"),
            Of("decisions"),
            Of("events"),
            Of("files"),
            Of("bytes"),
            Of("unreferenced"),
            [.. _problems]
        );

    private long Of(string what) => _counts.GetValueOrDefault(what);
}
