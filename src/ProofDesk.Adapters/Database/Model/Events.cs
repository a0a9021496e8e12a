using ProofDesk.Approvals.Events;

namespace ProofDesk.Adapters.Database;

/// <summary>Something that happened after a freeze or to the log itself, with its leaf. Append-only.</summary>
public sealed class LoggedEvent
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public EventKind Kind { get; set; }
    public Guid? OrderId { get; set; }
    public Guid? VersionId { get; set; }

    /// <summary>What it is about when that is neither order nor version: a decision, a mail, an invitation.</summary>
    public Guid? SubjectId { get; set; }
    public required string Actor { get; set; }
    public required byte[] EventBytes { get; set; }
    public required string EventSha256 { get; set; }
    public long LeafIndex { get; set; }
    public DateTimeOffset At { get; set; }
}

/// <summary>The further answers an order may ask for beside the one that decides.</summary>
public enum AnswerSeat
{
    /// <summary>A second person must approve before films leave.</summary>
    Second,

    /// <summary>The printed sample is approved after the proof.</summary>
    Sample,
}

/// <summary>The first answer takes the seat, as <see cref="DecisionSlot"/> does for the deciding one.</summary>
public sealed class SeatTaken
{
    public Guid VersionId { get; set; }
    public AnswerSeat Seat { get; set; }
    public Guid DecisionId { get; set; }
}

/// <summary>One stretch of the log under one name. The first is opened with the log; later ones after an old backup was put back.</summary>
public sealed class LogEpoch
{
    /// <summary>Counts from 1.</summary>
    public int Number { get; set; }
    public required string Origin { get; set; }

    /// <summary>Leaves the log held when the epoch began.</summary>
    public long FromSize { get; set; }
    public DateTimeOffset OpenedAt { get; set; }

    /// <summary>The highest checkpoint of the epoch before, whose later leaves are lost; empty for the first.</summary>
    public string LostNote { get; set; } = "";
}

/// <summary>A public key that signs or signed the log, and for which sizes of the tree it counts.</summary>
public sealed class LogKey : IVersioned
{
    public Guid Id { get; set; } = Guid.CreateVersion7();

    /// <summary>NAME+ID+BASE64 as c2sp.org/signed-note writes it.</summary>
    public required string VerifierKey { get; set; }
    public long FromSize { get; set; }

    /// <summary>First tree size its signature does not count for; null while it signs.</summary>
    public long? RevokedFromSize { get; set; }
    public DateTimeOffset AddedAt { get; set; }
    public DateTimeOffset? RevokedAt { get; set; }
    public long RowVersion { get; set; }
}
