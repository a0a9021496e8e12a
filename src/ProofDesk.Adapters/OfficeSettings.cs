namespace ProofDesk.Adapters;

/// <summary>Settings of everything outside the pure projects; bound from the section "Office".</summary>
public sealed class OfficeSettings
{
    public string DataFolder { get; set; } = "data";

    /// <summary>Empty: SQLite in the data folder. Otherwise a PostgreSQL connection string.</summary>
    public string PostgresConnection { get; set; } = "";

    /// <summary>The log's name in every checkpoint; never changes during the life of a log.</summary>
    public string LogOrigin { get; set; } = "proofdesk.local/proofs/1";

    public int LinkDays { get; set; } = 30;

    /// <summary>Minutes between an approval and the release to production, in which it may be withdrawn.</summary>
    public int HoldMinutes { get; set; } = 10;

    /// <summary>Seconds a proof's letter lies in the outbox before it leaves, in which the sending can be taken back.</summary>
    public int UndoSeconds { get; set; } = 10;

    /// <summary>Room kept back on the disk, so that decisions are still written when it is full; 0 keeps none.</summary>
    public int ReserveMegabytes { get; set; }

    public MailSettings Mail { get; set; } = new();
}

public enum MailSecurity
{
    /// <summary>Plain connection becomes TLS, or no mail leaves.</summary>
    StartTls,

    /// <summary>TLS from the first byte, usually port 465.</summary>
    TlsOnConnect,

    /// <summary>No TLS; accepted for a server on this machine only.</summary>
    NoneOnLoopback,
}

public sealed class MailSettings
{
    /// <summary>Empty: mails are written to the pickup folder.</summary>
    public string Host { get; set; } = "";
    public int Port { get; set; } = 587;
    public MailSecurity Security { get; set; } = MailSecurity.StartTls;

    /// <summary>
    /// A PEM file of the authority that signed the mail server's certificate, for a server inside the house. Empty: the system's own.
    /// </summary>
    public string AuthorityFile { get; set; } = "";
    public string UserName { get; set; } = "";
    public string Password { get; set; } = "";
    public string From { get; set; } = "proofs@proofdesk.local";

    /// <summary>Domain of every Message-ID; the machine's own name must not leak.</summary>
    public string MessageIdDomain { get; set; } = "proofdesk.local";

    /// <summary>Folder into which delivery reports are put as .eml files; empty: none are read.</summary>
    public string ReturnsFolder { get; set; } = "";

    public bool UsesPickup => Host.Length == 0;
}
