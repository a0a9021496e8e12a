namespace ProofDesk.Adapters.Database;

/// <summary>Who did what in the desk. Append-only.</summary>
public sealed class AuditEvent
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public DateTimeOffset At { get; set; }
    public required string Actor { get; set; }
    public required string Action { get; set; }
    public Guid? OrderId { get; set; }
    public string Detail { get; set; } = "";
}

/// <summary>How often a link's page was opened: maybe by a scanner, and the desk says so.</summary>
public sealed class ViewCount
{
    public Guid InvitationId { get; set; }
    public Guid VersionId { get; set; }
    public int Count { get; set; }
    public DateTimeOffset FirstAt { get; set; }
    public DateTimeOffset LastAt { get; set; }
}
