namespace ProofDesk.Web.Start;

/// <summary>The section "Server" of the settings; docs/running-a-server.md says what each one does.</summary>
public sealed class ServerSettings
{
    public string PublicBaseUrl { get; set; } = "http://localhost:5080";
    public string ShopName { get; set; } = "Lindhag Screen Works";
    public string ShopContact { get; set; } = "";
    public string OwnerEmail { get; set; } = "owner@lindhag.example";

    /// <summary>For one start: the owner's password, second step and passkeys are taken away and a link for a new password is printed.</summary>
    public bool ResetOwner { get; set; }
    public bool SampleOrder { get; set; } = true;
    public int UploadMegabytes { get; set; } = 64;
    public int FilmDpi { get; set; } = 1440;

    /// <summary>The largest upload and the form around it.</summary>
    public long MostBodyBytes => UploadMegabytes * 1_000_000L + 1_000_000;

    /// <summary>A port on this machine only where /metrics needs no sign-in; 0 = none.</summary>
    public int MetricsPort { get; set; }

    /// <summary>Log lines as JSON, one object a line, for a collector.</summary>
    public bool JsonLogs { get; set; }

    /// <summary>Of the worn pictures, 0.5 to 10; null = the usual 2.</summary>
    public double? GarmentPixelsPerMm { get; set; }
    public int RequestsPerMinute { get; set; } = 3000;

    /// <summary>How long a password or passkey counts as just typed where more than a session is asked for.</summary>
    public int RecentMinutes { get; set; } = 10;

    /// <summary>An answer that comes sooner after its form was given out is flagged for staff to look at.</summary>
    public int LeastLookSeconds { get; set; } = 3;

    /// <summary>For tests of the client's pages: `?lang=qps-ploc` gives stretched English.</summary>
    public bool PseudoLanguage { get; set; }

    /// <summary>Links are built from this address only, never from what a request claims to be.</summary>
    public string Link(string path) => PublicBaseUrl.TrimEnd('/') + path;

    public bool UsesHttps => PublicBaseUrl.StartsWith("https://", StringComparison.OrdinalIgnoreCase);

    /// <summary>`__Host-` needs https; plain http on the loopback address goes without the prefix.</summary>
    public string CookieName(string name) => UsesHttps ? "__Host-" + name : name;

    public CookieSecurePolicy CookieSecurity =>
        UsesHttps ? CookieSecurePolicy.Always : CookieSecurePolicy.SameAsRequest;
}
