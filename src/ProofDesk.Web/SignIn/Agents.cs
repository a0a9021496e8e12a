namespace ProofDesk.Web.SignIn;

/// <summary>A browser in plain words, for people to know their own again. Only these words are kept.</summary>
internal static class Agents
{
    // In this order: most browsers also call themselves by the names of others.
    private static readonly (string Sign, string Word)[] Browsers =
    [
        ("Edg", "Edge"),
        ("OPR/", "Opera"),
        ("SamsungBrowser/", "Samsung Internet"),
        ("Firefox/", "Firefox"),
        ("FxiOS/", "Firefox"),
        ("CriOS/", "Chrome"),
        ("Chrome/", "Chrome or Chromium"),
        ("Safari/", "Safari"),
    ];

    private static readonly (string Sign, string Word)[] Systems =
    [
        ("iPhone", "an iPhone"),
        ("iPad", "an iPad"),
        ("Android", "Android"),
        ("Windows", "Windows"),
        ("Mac OS X", "a Mac"),
        ("CrOS", "ChromeOS"),
        ("Linux", "Linux"),
    ];

    public static string Say(string? userAgent)
    {
        var browser = Word(Browsers, userAgent) ?? "another program";
        return Word(Systems, userAgent) is { } system ? $"{browser} on {system}" : browser;
    }

    private static string? Word((string Sign, string Word)[] words, string? userAgent) =>
        words.FirstOrDefault(w => userAgent?.Contains(w.Sign, StringComparison.Ordinal) == true).Word;
}
