namespace ProofDesk.Adapters.Database;

public enum RenderState
{
    Ready,
    Running,
    Done,
    Failed,
    Cancelled,
}

/// <summary>A render to be done: claimed by lease, published only by the run that still holds it.</summary>
public sealed class RenderWork
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid VersionId { get; set; }
    public RenderState State { get; set; }
    public int Priority { get; set; }
    public int Attempts { get; set; }
    public DateTimeOffset NotBefore { get; set; }
    public string? LeaseOwner { get; set; }
    public DateTimeOffset? LeaseUntil { get; set; }

    /// <summary>The fence: one more at each claim.</summary>
    public long Run { get; set; }
    public bool CancelRequested { get; set; }
    public string Stage { get; set; } = "";
    public int PercentDone { get; set; }

    /// <summary>Counts progress reports; the event id of the live page.</summary>
    public long ProgressNumber { get; set; }
    public string? Error { get; set; }
    public DateTimeOffset CreatedAt { get; set; }
    public DateTimeOffset? FinishedAt { get; set; }
}
