using System.Globalization;

namespace ProofDesk.Web.Reviews;

/// <summary>
/// The language one request of a client is answered in. It lives as long as the request; pages of the desk, which say some of the
/// same words, are not in a request of a client and stay English.
/// </summary>
/// <param name="Page">Language of the page.</param>
/// <param name="Statement">Language of the sentences to sign, if the version has them in it.</param>
public sealed record ReviewLanguage(string Page, string Statement)
{
    public const string Fallback = "en";

    /// <summary>English stretched and accented, for tests: a text that does not fit in it will not fit in some language.</summary>
    public const string Pseudo = "qps-ploc";

    /// <summary>Languages with all texts of the client's pages, each under its own name.</summary>
    public static IReadOnlyList<(string Id, string Name)> Pages { get; } = [("en", "English"), ("es", "Español")];

    private static readonly ReviewLanguage English = new(Fallback, Fallback);
    private static readonly AsyncLocal<ReviewLanguage?> OfRequest = new();

    public static ReviewLanguage Now => OfRequest.Value ?? English;

    public static CultureInfo Culture => CultureOf(Now.Page);

    internal static void Set(ReviewLanguage language) => OfRequest.Value = language;

    public static bool IsPage(string? id) => Pages.Any(p => p.Id == id);

    /// <param name="chosen">what the visitor chose on a page; null when nothing was</param>
    /// <param name="ofLink">language the shop chose for the link; empty when it left that to the browser</param>
    /// <param name="ofBrowser">what the browser asks for, most wanted first</param>
    public static ReviewLanguage Pick(string? chosen, string? ofLink, IEnumerable<string> ofBrowser)
    {
        if (chosen is not null)
            return new(chosen, chosen);
        var wanted = ofBrowser.Select(Primary).FirstOrDefault(IsPage) ?? Fallback;
        if (string.IsNullOrEmpty(ofLink))
            return new(wanted, wanted);
        // A link may ask for sentences in a language that has no pages: then only the pages follow the browser.
        return IsPage(ofLink) ? new(ofLink, ofLink) : new(wanted, ofLink);
    }

    private static string Primary(string tag) => tag.Split('-')[0].ToLowerInvariant();

    private static CultureInfo CultureOf(string page) =>
        CultureInfo.GetCultureInfo(page is "en" or Pseudo ? "en-GB" : page);
}
