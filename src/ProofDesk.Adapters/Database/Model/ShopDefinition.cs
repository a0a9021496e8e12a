namespace ProofDesk.Adapters.Database;

/// <summary>What a shop can define for itself in the desk. Stored by name, so a new kind needs no migration.</summary>
public enum DefinitionKind
{
    Ink,
    Press,
    Garment,
    RateCard,
    OutputDevice,
    Frame,
}

/// <summary>
/// One version of one thing the shop defined. Append-only: an edit is the next version, and so is taking it out of use. What a
/// proof was made with can be read back for as long as the proof is kept.
/// </summary>
public sealed class ShopDefinition
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public DefinitionKind Kind { get; set; }

    /// <summary>Names the thing within its kind and never changes: "navy-flood".</summary>
    public required string Key { get; set; }

    /// <summary>1 for the first, gapless: a trigger holds it.</summary>
    public int Version { get; set; }

    /// <summary>What it is, in the JSON of its kind. A version that retires repeats what the one before said.</summary>
    public required string Json { get; set; }
    public DateTimeOffset CreatedAt { get; set; }
    public required string CreatedBy { get; set; }

    /// <summary>Set on the version that took it out of use; a later version without it brings it back.</summary>
    public DateTimeOffset? RetiredAt { get; set; }
}
