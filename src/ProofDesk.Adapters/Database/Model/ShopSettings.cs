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

    /// <summary>ISO 4217, such as EUR; empty while the shop has not said.</summary>
    public string Currency { get; set; } = "";

    /// <summary>From this order value on an approval needs the mailed code, in the smallest unit of the currency; null = never.</summary>
    public long? CodeFromValueMinor { get; set; }

    /// <summary>Days without an answer before the first reminder, and between reminders; 0 = none are sent.</summary>
    public int RemindAfterDays { get; set; }

    /// <summary>Mails one person of the shop may cause in a day.</summary>
    public int MailsPerDay { get; set; } = 200;

    /// <summary>Who signs in with a password alone is first led to setting up a second step or a passkey.</summary>
    public bool SecondStepForAll { get; set; }

    public long RowVersion { get; set; }
}
