namespace ProofDesk.Adapters.Database;

/// <summary>An eight-digit code mailed on demand to the invited address. Few bits, so only a slow hash of it is kept.</summary>
public sealed class MailedCode : IVersioned
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid InvitationId { get; set; }
    public Guid VersionId { get; set; }
    public required string CodeHash { get; set; }
    public DateTimeOffset IssuedAt { get; set; }
    public DateTimeOffset ExpiresAt { get; set; }
    public int Tries { get; set; }
    public DateTimeOffset? EnteredAt { get; set; }
    public DateTimeOffset? UsedAt { get; set; }
    public long RowVersion { get; set; }
}

/// <summary>A mail that asked once more for an answer: three for a version, never more.</summary>
public sealed class Reminder
{
    public const int Most = 3;

    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid OrderId { get; set; }
    public Guid VersionId { get; set; }
    public Guid InvitationId { get; set; }

    /// <summary>1 to <see cref="Most"/>.</summary>
    public int Number { get; set; }
    public DateTimeOffset At { get; set; }
}

/// <summary>What came back for a mail: a delivery status report, told once however often it is read.</summary>
public sealed class MailReturn
{
    public Guid Id { get; set; } = Guid.CreateVersion7();

    /// <summary>Message-ID of the report itself.</summary>
    public required string ReportId { get; set; }
    public Guid? MailId { get; set; }

    /// <summary>RFC 3464: failed, delayed, delivered, relayed, expanded.</summary>
    public required string Action { get; set; }

    /// <summary>RFC 3463, such as 5.1.1.</summary>
    public string Status { get; set; } = "";
    public string Diagnostic { get; set; } = "";
    public DateTimeOffset At { get; set; }
}

/// <summary>How often something happened within a window; what limits guessing must survive a restart.</summary>
public sealed class RateCount
{
    public required string Key { get; set; }
    public DateTimeOffset WindowStart { get; set; }
    public int Count { get; set; }
}
