using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Database;

public sealed class Client : IVersioned
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public required string Name { get; set; }
    public required string Email { get; set; }
    public string Phone { get; set; } = "";
    public DateTimeOffset CreatedAt { get; set; }
    public long RowVersion { get; set; }
    public List<Order> Orders { get; set; } = [];
}

/// <summary>Whose turn it is. Kept beside the order so that the three lists are one indexed query each.</summary>
public enum OrderState
{
    WaitingForUs,
    WaitingForThem,
    ReadyToBurn,
    Closed,
}

/// <summary>Prints x lines: every print goes on every line, and a proof version covers all of them.</summary>
public sealed class Order : IVersioned
{
    public Guid Id { get; set; } = Guid.CreateVersion7();

    /// <summary>The number people say on the telephone; counts up from 1001.</summary>
    public int Number { get; set; }
    public required string Title { get; set; }
    public Guid ClientId { get; set; }
    public Client? Client { get; set; }
    public DateOnly? InHandsDate { get; set; }
    public DateOnly? ApproveByDate { get; set; }
    public OrderState State { get; set; }
    public string Notes { get; set; } = "";

    /// <summary>What the order is worth in the smallest unit of the shop's currency, or null while nobody said.</summary>
    public long? ValueMinor { get; set; }

    /// <summary>The evidence an approval must carry; null = the shop's rule by value.</summary>
    public EvidenceLevel? EvidenceAsked { get; set; }

    /// <summary>Address of a second person who must approve too; empty = one is enough.</summary>
    public string SecondApprover { get; set; } = "";

    /// <summary>A printed sample is approved before the run.</summary>
    public bool SampleAsked { get; set; }

    /// <summary>Since when production is held, and why; null = it is not.</summary>
    public DateTimeOffset? HeldSince { get; set; }
    public string HeldWhy { get; set; } = "";

    /// <summary>The approved version this order repeats.</summary>
    public Guid? RepeatOfVersionId { get; set; }
    public DateTimeOffset CreatedAt { get; set; }
    public long RowVersion { get; set; }
    public List<OrderPrint> Prints { get; set; } = [];
    public List<OrderLine> Lines { get; set; } = [];
    public List<ProofVersion> Versions { get; set; } = [];
}

/// <summary>One art at one place, in one method, for one size group.</summary>
public sealed class OrderPrint : IVersioned
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid OrderId { get; set; }
    public int Position { get; set; }
    public required string Name { get; set; }

    /// <summary>SHA-256 of the uploaded art in the file store, lower-case hex.</summary>
    public required string ArtSha256 { get; set; }
    public required string ArtFileName { get; set; }
    public string ArtMediaType { get; set; } = "application/octet-stream";

    /// <summary>One of the trade's places, such as front, back, left chest.</summary>
    public required string Place { get; set; }
    public int FromSeamUm { get; set; }

    /// <summary>Positive is to the wearer's left.</summary>
    public int FromCentreUm { get; set; }

    /// <summary>The inked extent, not the canvas.</summary>
    public int WidthUm { get; set; }
    public required string Method { get; set; }

    /// <summary>"drop", "print", or empty while the question is open.</summary>
    public string Background { get; set; } = "";

    /// <summary>"auto", a number of inks, or ink ids parted by commas.</summary>
    public string Inks { get; set; } = "auto";

    /// <summary>"auto", "white", "discharge" or "none"; then, where chosen, "blocking" and "press=own-shed-press".</summary>
    public string Base { get; set; } = "auto";

    /// <summary>Whatever else was chosen for this print, as JSON; empty when nothing was.</summary>
    public string Options { get; set; } = "";
    public string SizeGroup { get; set; } = "adult";

    /// <summary>Words in the art as they must read, one line each: the client checks the spelling against them.</summary>
    public string Words { get; set; } = "";
    public long RowVersion { get; set; }
}

/// <summary>One garment in one colour.</summary>
public sealed class OrderLine : IVersioned
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid OrderId { get; set; }
    public int Position { get; set; }
    public required string GarmentId { get; set; }
    public required string ColourId { get; set; }
    public long RowVersion { get; set; }
    public List<LineCount> Counts { get; set; } = [];
}

/// <summary>How many of one size.</summary>
public sealed class LineCount
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid LineId { get; set; }
    public int Position { get; set; }
    public required string Size { get; set; }
    public int Count { get; set; }
}
