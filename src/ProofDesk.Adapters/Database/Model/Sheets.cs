namespace ProofDesk.Adapters.Database;

/// <summary>One art by several methods on several garment colours, to choose by. Nothing on it is bound and nothing can be approved.</summary>
public sealed class CompareSheet
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public required string Title { get; set; }

    /// <summary>The order it was begun from; null when the art was uploaded for the sheet.</summary>
    public Guid? OrderId { get; set; }
    public required string ArtSha256 { get; set; }
    public required string ArtFileName { get; set; }
    public required string ArtMediaType { get; set; }

    /// <summary>What every cell shares, as it was when the sheet was asked for.</summary>
    public required string RequestJson { get; set; }
    public string CreatedBy { get; set; } = "";
    public DateTimeOffset CreatedAt { get; set; }
    public List<SheetCell> Cells { get; set; } = [];
}

public enum CellState
{
    Ready,
    Running,
    Done,

    /// <summary>The method cannot do this art or this cloth; trying again would not help.</summary>
    Cannot,

    /// <summary>It broke too often; may be tried again.</summary>
    Failed,
    Cancelled,
}

/// <summary>One proof of a sheet, and the work to make it: claimed by lease, published only by the run that still holds it.</summary>
public sealed class SheetCell
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid SheetId { get; set; }

    /// <summary>Row by row from the top left, from 0.</summary>
    public int Position { get; set; }
    public required string Method { get; set; }
    public required string GarmentId { get; set; }
    public required string ColourId { get; set; }

    /// <summary>Exactly so many inks; null = as many as the art has, or as the method has.</summary>
    public int? Inks { get; set; }
    public CellState State { get; set; }
    public int Attempts { get; set; }
    public DateTimeOffset NotBefore { get; set; }
    public string? LeaseOwner { get; set; }
    public DateTimeOffset? LeaseUntil { get; set; }

    /// <summary>The fence: one more at each claim.</summary>
    public long Run { get; set; }
    public string Stage { get; set; } = "";
    public int PercentDone { get; set; }

    /// <summary>Why there is no picture, in words.</summary>
    public string? Error { get; set; }
    public string? PrintSha256 { get; set; }
    public string? GarmentSha256 { get; set; }

    /// <summary>What was counted and measured of the proof.</summary>
    public string FactsJson { get; set; } = "";
    public DateTimeOffset CreatedAt { get; set; }
    public DateTimeOffset? FinishedAt { get; set; }
}

/// <summary>A link that shows a sheet and lets its holder say what he likes best. The token itself is shown once and kept nowhere.</summary>
public sealed class SheetLink
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid SheetId { get; set; }

    /// <summary>SHA-256 of the 47-character token; 256 random bits need no password hash.</summary>
    public required byte[] TokenSha256 { get; set; }

    /// <summary>For whom, as the shop calls them.</summary>
    public string ForWhom { get; set; } = "";
    public string CreatedBy { get; set; } = "";
    public DateTimeOffset CreatedAt { get; set; }
    public DateTimeOffset ExpiresAt { get; set; }
    public DateTimeOffset? RevokedAt { get; set; }
}

/// <summary>"I like this one best": the newest word of a link. A preference, never an approval; no log leaf is made of it.</summary>
public sealed class SheetPreference
{
    public Guid LinkId { get; set; }
    public Guid SheetId { get; set; }
    public Guid CellId { get; set; }
    public required string Name { get; set; }
    public string Words { get; set; } = "";
    public DateTimeOffset At { get; set; }
}
