using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Database;

/// <summary>What somebody said about one version. Append-only: triggers refuse UPDATE and DELETE.</summary>
public sealed class Decision
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid OrderId { get; set; }
    public Guid VersionId { get; set; }
    public ProofVersion? Version { get; set; }

    /// <summary>Empty when staff recorded a decision that was given elsewhere.</summary>
    public Guid? InvitationId { get; set; }
    public DecisionKind Kind { get; set; }

    /// <summary>Made with the form; the same nonce is the same decision.</summary>
    public required string Nonce { get; set; }
    public required string TypedName { get; set; }
    public required string Recipient { get; set; }

    public EvidenceLevel EvidenceLevel { get; set; }
    public string Comment { get; set; } = "";
    public required string ManifestSha256 { get; set; }
    public required byte[] StatementBytes { get; set; }

    /// <summary>Its personal data was erased: name, address, comment and statement are empty, the leaf stays.</summary>
    public bool IsErased => StatementBytes.Length == 0;
    public required string StatementSha256 { get; set; }

    /// <summary>The sentence as it stood on the page, byte for byte what the statement's digest names.</summary>
    public required string StatementText { get; set; }

    /// <summary>What looked like a machine when it came, words parted by blanks; empty when nothing did.</summary>
    public string Flags { get; set; } = "";
    public long LeafIndex { get; set; }
    public DateTimeOffset At { get; set; }
}

/// <summary>The one effective decision of a version: the first insert wins, a withdrawal frees the slot.</summary>
public sealed class DecisionSlot
{
    public Guid VersionId { get; set; }
    public Guid DecisionId { get; set; }
    public Decision? Decision { get; set; }
}
