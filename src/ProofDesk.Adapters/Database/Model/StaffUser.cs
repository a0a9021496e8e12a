using Microsoft.AspNetCore.Identity;

namespace ProofDesk.Adapters.Database;

/// <summary>Someone who works in the shop. Clients have no account.</summary>
public sealed class StaffUser : IdentityUser<Guid>
{
    public string DisplayName { get; set; } = "";
    public StaffRole Role { get; set; }
}

/// <summary>What somebody in the shop may do.</summary>
public enum StaffRole
{
    /// <summary>Everything, people and keys among it.</summary>
    Owner,

    /// <summary>Orders, proofs, sending, records.</summary>
    Staff,

    /// <summary>Films of approved versions, press checks, counts.</summary>
    Production,

    /// <summary>Art, drafts and comparisons; releases nothing.</summary>
    Designer,

    /// <summary>Reads everything, changes nothing.</summary>
    Auditor,
}

/// <summary>A link that makes an account, mailed or handed to one person.</summary>
public sealed class StaffInvitation : IVersioned
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public required string Email { get; set; }
    public required string Name { get; set; }
    public StaffRole Role { get; set; }
    public required byte[] TokenSha256 { get; set; }
    public required string InvitedBy { get; set; }
    public DateTimeOffset CreatedAt { get; set; }
    public DateTimeOffset ExpiresAt { get; set; }
    public DateTimeOffset? UsedAt { get; set; }
    public DateTimeOffset? RevokedAt { get; set; }
    public long RowVersion { get; set; }
}

/// <summary>A signed-in browser: it can be listed and ended, and its cookie holds no more than the key.</summary>
public sealed class StaffSession
{
    public Guid Id { get; set; } = Guid.CreateVersion7();

    /// <summary>SHA-256 of the key in the cookie.</summary>
    public required byte[] KeySha256 { get; set; }
    public Guid UserId { get; set; }
    public required byte[] Ticket { get; set; }
    public string Network { get; set; } = "";
    public string Agent { get; set; } = "";
    public DateTimeOffset CreatedAt { get; set; }
    public DateTimeOffset LastSeenAt { get; set; }
    public DateTimeOffset ExpiresAt { get; set; }
    public DateTimeOffset? EndedAt { get; set; }
}
