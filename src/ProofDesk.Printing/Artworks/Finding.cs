namespace ProofDesk.Printing.Artworks;

/// <summary>How much a finding matters: a note is worth reading, a warning wants a decision, a refusal stops the job.</summary>
public enum FindingWeight
{
    Note,
    Warning,
    Refusal,
}

/// <summary>
/// Something measured in the art, the plates or the order that the people involved should know.
/// <see cref="Code"/> is stable (kebab-case, e.g. "too-few-pixels") and never reused with another meaning.
/// </summary>
/// <param name="Code">Stable identifier.</param>
/// <param name="Weight">Note, warning or refusal.</param>
/// <param name="Message">One sentence in lower case without a final period: what is wrong, with which thing, given and limit.</param>
/// <param name="NextStep">What to do about it, in the same style.</param>
/// <param name="Measured">The measured number, in <paramref name="Unit"/>; null where nothing was measured.</param>
/// <param name="Limit">The limit it was held against, in <paramref name="Unit"/>.</param>
/// <param name="Unit">Unit of both numbers, e.g. "mm", "dpi", "%", "inks".</param>
public sealed record Finding(
    string Code,
    FindingWeight Weight,
    string Message,
    string NextStep,
    double? Measured = null,
    double? Limit = null,
    string? Unit = null
)
{
    /// <summary>Where in the art it is worst; null where it has no one place.</summary>
    public FindingSpot? Spot { get; init; }
}
