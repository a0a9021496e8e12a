namespace ProofDesk.Adapters.Database;

/// <summary>What a program may do that carries a key; the rights behind each are in the server's table.</summary>
public enum KeyScope
{
    /// <summary>Reads orders, proofs, records and rates; sees no client's address.</summary>
    Reading,

    /// <summary>Takes orders, has proofs made and sends them.</summary>
    Orders,

    /// <summary>Reads orders and takes the films of approved versions.</summary>
    Production,
}

/// <summary>
/// A key with which a program of the shop asks the server. The secret is shown once and not kept: the row has its SHA-256. It ends
/// once and is never removed, so what was done with it keeps its name.
/// </summary>
public sealed class ApiKey : IVersioned
{
    public const int LongestName = 60;

    public Guid Id { get; set; } = Guid.CreateVersion7();

    /// <summary>No two keys ever had the same: the trail names it.</summary>
    public required string Name { get; set; }
    public KeyScope Scope { get; set; }
    public required byte[] SecretSha256 { get; set; }
    public required string MadeBy { get; set; }
    public DateTimeOffset CreatedAt { get; set; }
    public DateTimeOffset ExpiresAt { get; set; }
    public DateTimeOffset? LastUsedAt { get; set; }
    public DateTimeOffset? EndedAt { get; set; }
    public string EndedBy { get; set; } = "";
    public long RowVersion { get; set; }

    /// <summary>How its acts are recorded.</summary>
    public string Actor => "key " + Name;

    public bool IsOpen(DateTimeOffset now) => EndedAt is null && ExpiresAt > now;
}

/// <summary>
/// The first answer to a request that named itself (Idempotency-Key): asked again it is given again. Until the answer is there the row
/// is a claim, and a claim that stays one says that nobody knows how the request ended.
/// </summary>
public sealed class ApiAnswer
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid KeyId { get; set; }

    /// <summary>SHA-256 of what the request called itself: people put names of clients in there.</summary>
    public required byte[] NameSha256 { get; set; }

    /// <summary>SHA-256 of method, address and body: another request under the same name is refused.</summary>
    public required byte[] RequestSha256 { get; set; }

    /// <summary>0 while there is none.</summary>
    public int Status { get; set; }
    public string ContentType { get; set; } = "";
    public string Location { get; set; } = "";
    public string ETag { get; set; } = "";
    public byte[] Body { get; set; } = [];
    public DateTimeOffset At { get; set; }
}
