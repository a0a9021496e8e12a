namespace ProofDesk.Web.Start;

/// <summary>The section "Server" of the settings; docs/running-a-server.md says what each one does.</summary>
public sealed class ServerSettings
{
    public string PublicBaseUrl { get; set; } = "http://localhost:5080";
    public string ShopName { get; set; } = "Lindhag Screen Works";
    public string ShopContact { get; set; } = "";
    public string OwnerEmail { get; set; } = "owner@lindhag.example";
    public bool SampleOrder { get; set; } = true;
    public int UploadMegabytes { get; set; } = 64;
    public int FilmDpi { get; set; } = 1440;

    /// <summary>Of the worn pictures, 0.5 to 10; null = the usual 2.</summary>
    public double? GarmentPixelsPerMm { get; set; }
    public int RequestsPerMinute { get; set; } = 3000;

    /// <summary>Links are built from this address only, never from what a request claims to be.</summary>
    public string Link(string path) => PublicBaseUrl.TrimEnd('/') + path;

    public bool UsesHttps => PublicBaseUrl.StartsWith("https://", StringComparison.OrdinalIgnoreCase);

    /// <summary>`__Host-` needs https; plain http on the loopback address goes without the prefix.</summary>
    public string CookieName(string name) => UsesHttps ? "__Host-" + name : name;

    public CookieSecurePolicy CookieSecurity =>
        UsesHttps ? CookieSecurePolicy.Always : CookieSecurePolicy.SameAsRequest;
}
