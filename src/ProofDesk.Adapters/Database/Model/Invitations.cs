namespace ProofDesk.Adapters.Database;

public enum InvitationPurpose
{
    Review,
    Dispute,

    /// <summary>For the second person who must approve.</summary>
    Second,
}

/// <summary>
/// A link given to one recipient. It belongs to the order's line of versions: an older link opens the newest version sent.
/// The token itself is in the mail only.
/// </summary>
public sealed class Invitation : IVersioned
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid OrderId { get; set; }
    public Order? Order { get; set; }

    /// <summary>The version that was the newest when the link was mailed.</summary>
    public Guid VersionId { get; set; }
    public InvitationPurpose Purpose { get; set; }

    /// <summary>SHA-256 of the 47-character token; 256 random bits need no password hash.</summary>
    public required byte[] TokenSha256 { get; set; }
    public required string Recipient { get; set; }
    public string RecipientName { get; set; } = "";
    public string Locale { get; set; } = "en";
    public DateTimeOffset CreatedAt { get; set; }
    public DateTimeOffset ExpiresAt { get; set; }
    public DateTimeOffset? RevokedAt { get; set; }

    /// <summary>The link whose holder passed it on to this recipient.</summary>
    public Guid? PassedOnFromId { get; set; }

    /// <summary>The decision that a receipt's own link is about.</summary>
    public Guid? DecisionId { get; set; }

    /// <summary>The recipient asked for no reminders.</summary>
    public bool NoReminders { get; set; }
    public long RowVersion { get; set; }
}
