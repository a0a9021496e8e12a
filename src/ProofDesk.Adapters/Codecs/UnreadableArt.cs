namespace ProofDesk.Adapters.Codecs;

/// <summary>
/// The file cannot be used as art. The message is for people: lower case, no final period, numbers and next step
/// beside it.
/// </summary>
/// <param name="code">Stable, kebab-case, e.g. "too-many-pixels".</param>
/// <param name="what">What is wrong, with the numbers in it.</param>
/// <param name="nextStep">What to do now.</param>
/// <param name="given">What the file has, in the unit named in <paramref name="what"/>.</param>
/// <param name="limit">What is allowed.</param>
public sealed class UnreadableArt(string code, string what, string nextStep, double? given = null, double? limit = null)
    : Exception(what)
{
    public string Code { get; } = code;
    public string What => Message;
    public string NextStep { get; } = nextStep;
    public double? Given { get; } = given;
    public double? Limit { get; } = limit;

    /// <summary>What a crashed worker wrote, or null.</summary>
    public string? ForTheLog { get; init; }
}
