namespace ProofDesk.Adapters.Database;

/// <summary>What the shop says about itself. One row.</summary>
public sealed class ShopSettings : IVersioned
{
    public const int OnlyId = 1;

    public int Id { get; set; } = OnlyId;
    public required string Name { get; set; }
    public string Address { get; set; } = "";
    public string Phone { get; set; } = "";

    /// <summary>The person's address that answers to our mails reach.</summary>
    public string ReplyTo { get; set; } = "";

    /// <summary>The address in front of every mailed link, without a slash at its end.</summary>
    public string PublicBaseUrl { get; set; } = "http://localhost:5080";

    /// <summary>An IANA zone; stored times are UTC, shown times are in this zone.</summary>
    public string TimeZone { get; set; } = "UTC";

    /// <summary>Lines the shop adds to the sentences a client signs, one a line (over and under count, right to reproduce...).</summary>
    public string StatementText { get; set; } = "";

    public long RowVersion { get; set; }
}
