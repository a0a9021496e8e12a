using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Adapters.Database;

public enum VersionState
{
    Draft,
    Rendering,
    Failed,
    Frozen,
    Sent,
    Superseded,
    Decided,
}

/// <summary>One proof of an order. From the moment its manifest is stored, triggers refuse to change what it binds.</summary>
public sealed class ProofVersion : IVersioned
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid OrderId { get; set; }
    public Order? Order { get; set; }
    public int Number { get; set; }
    public VersionState State { get; set; }

    /// <summary>Prints, lines and settings as they were when the render was asked for.</summary>
    public required string RequestJson { get; set; }

    /// <summary>Canonical JSON, byte for byte what was hashed.</summary>
    public byte[]? ManifestBytes { get; set; }

    /// <summary>Lower-case hex of SHA-256 of <see cref="ManifestBytes"/>.</summary>
    public string? ManifestSha256 { get; set; }
    public long? FreezeLeafIndex { get; set; }

    /// <summary>The sentences above the button, one a locale; their digests are in the manifest.</summary>
    public SortedDictionary<string, string> StatementTexts { get; set; } = new(StringComparer.Ordinal);

    /// <summary>What the render found worth saying, as JSON.</summary>
    public string FindingsJson { get; set; } = "[]";
    public string? Error { get; set; }
    public string CreatedBy { get; set; } = "";
    public DateTimeOffset CreatedAt { get; set; }
    public DateTimeOffset? FrozenAt { get; set; }
    public DateTimeOffset? SentAt { get; set; }
    public DateTimeOffset? DecidedAt { get; set; }
    public long RowVersion { get; set; }
    public List<VersionFile> Files { get; set; } = [];
}

/// <summary>One file a version binds; the bytes are in the file store under <see cref="Sha256"/>.</summary>
public sealed class VersionFile
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid VersionId { get; set; }

    /// <summary>Path inside the packet, forward slashes.</summary>
    public required string Path { get; set; }
    public FileRole Role { get; set; }
    public required string MediaType { get; set; }
    public long Bytes { get; set; }
    public required string Sha256 { get; set; }
    public required string Sha512 { get; set; }
}
