using ProofDesk.Approvals.Log;

namespace ProofDesk.Adapters.Database;

/// <summary>One entry of the log. Append-only and gapless: triggers hold both.</summary>
public sealed class LogLeaf
{
    public long Index { get; set; }
    public LeafType Kind { get; set; }

    /// <summary>SHA-256(0x00 || leaf data), RFC 6962 section 2.1.</summary>
    public required byte[] LeafHash { get; set; }

    /// <summary>Hex SHA-256 of the manifest or statement the leaf stands for.</summary>
    public required string EventSha256 { get; set; }

    /// <summary>The version or decision meant.</summary>
    public Guid Ref { get; set; }
    public DateTimeOffset At { get; set; }
}

/// <summary>One row that PostgreSQL writers lock before they append; its size equals the number of leaves.</summary>
public sealed class LogHead
{
    public const int OnlyId = 1;

    public int Id { get; set; } = OnlyId;
    public long Size { get; set; }

    /// <summary>Time of the newest leaf; the clock may step back, the log may not.</summary>
    public DateTimeOffset LastAt { get; set; }
}

/// <summary>A signed note about the log at one size.</summary>
public sealed class LogCheckpoint
{
    public long Size { get; set; }
    public required string Note { get; set; }
    public DateTimeOffset At { get; set; }
}
