namespace ProofDesk.Web.Verifier;

/// <summary>verify.html: one file in which anybody checks a packet. Its checks are in checks/, build.mjs puts the file together.</summary>
internal static class VerifierFeature
{
    public static void Add(IServiceCollection services) => services.AddSingleton<VerifyPage>();
}

/// <summary>The file as it was built, the same bytes for everybody: a saved copy and a served one can be compared.</summary>
public sealed class VerifyPage
{
    private const string PolicyStarts = "http-equiv=\"Content-Security-Policy\" content=\"";

    public VerifyPage()
    {
        Html = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "verify.html"));
        var from = Html.IndexOf(PolicyStarts, StringComparison.Ordinal) + PolicyStarts.Length;
        Policy = Html[from..Html.IndexOf('"', from)] + "; frame-ancestors 'none'";
    }

    public string Html { get; }

    /// <summary>The page's own policy, and that nobody may frame it, which only a header can say.</summary>
    public string Policy { get; }
}
