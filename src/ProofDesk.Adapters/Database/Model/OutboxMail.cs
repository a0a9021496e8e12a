namespace ProofDesk.Adapters.Database;

public enum MailState
{
    Waiting,
    Sending,
    Sent,
    Bounced,
    Uncertain,
    Paused,
}

/// <summary>A mail as a visible state of its order. Written in the transaction of the event that caused it.</summary>
public sealed class OutboxMail
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid? OrderId { get; set; }
    public Guid? VersionId { get; set; }
    public Guid? InvitationId { get; set; }
    public Guid? DecisionId { get; set; }

    /// <summary>invitation, receipt, shop-receipt, dispute...</summary>
    public required string Kind { get; set; }
    public required string Recipient { get; set; }
    public required string Subject { get; set; }

    /// <summary>The whole message, sealed because it holds the raw token; emptied once sent.</summary>
    public byte[]? SealedMime { get; set; }
    public MailState State { get; set; }
    public int Attempts { get; set; }
    public DateTimeOffset NextAttemptAt { get; set; }
    public string? LeaseOwner { get; set; }
    public DateTimeOffset? LeaseUntil { get; set; }

    /// <summary>Counts claims; a late sender cannot write over a newer one.</summary>
    public long Run { get; set; }
    public string? LastReply { get; set; }

    /// <summary>The person of the shop who caused it; empty when the house did.</summary>
    public string CausedBy { get; set; } = "";
    public DateTimeOffset CreatedAt { get; set; }
    public DateTimeOffset? SentAt { get; set; }
}
