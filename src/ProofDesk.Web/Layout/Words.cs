using System.Globalization;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Web.Layout;

/// <summary>Numbers, dates and states as the pages say them.</summary>
public static class Words
{
    /// <summary>"the file is empty" as a sentence of a page: a capital, a full stop.</summary>
    public static string Sentence(string text) => text.Length == 0 ? "" : Capital(text).TrimEnd('.') + ".";

    public static string Capital(string text) => text.Length == 0 ? "" : char.ToUpperInvariant(text[0]) + text[1..];

    public static string Nearness(int? days) =>
        days switch
        {
            null => "no date",
            < -1 => $"{-days} days late",
            -1 => "1 day late",
            0 => "today",
            1 => "tomorrow",
            _ => $"in {days} days",
        };

    public static string Standing(ProofVersion? version) =>
        version is null ? "no proof yet" : Standing(version.State, version.Number);

    public static string Standing(VersionState state, int number) =>
        state switch
        {
            VersionState.Draft => $"version {number} not rendered",
            VersionState.Rendering => $"version {number} rendering",
            VersionState.Failed => $"version {number} failed",
            VersionState.Frozen => $"version {number} ready to send",
            VersionState.Sent => $"version {number} sent",
            VersionState.Superseded => $"version {number} superseded",
            VersionState.Decided => $"version {number} decided",
            _ => "",
        };

    /// <summary>The name somebody typed; where their data was erased, that.</summary>
    public static string Name(Decision said) => KeptStatement.NameOf(said);

    /// <summary>What was kept of somebody, or that it was erased.</summary>
    public static string Kept(string? text) => string.IsNullOrEmpty(text) ? KeptStatement.Erased : text;

    /// <summary>"Tue 1 Dec 2026".</summary>
    public static string Day(DateOnly? day) =>
        day?.ToString("ddd d MMM yyyy", CultureInfo.InvariantCulture) ?? "not set";

    /// <summary>"1 Dec 2026, 14:05 UTC".</summary>
    public static string Moment(DateTimeOffset at) =>
        at.UtcDateTime.ToString("d MMM yyyy, HH:mm", CultureInfo.InvariantCulture) + " UTC";

    public static string Machine(DateTimeOffset at) =>
        at.UtcDateTime.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture);

    /// <summary>"280 mm (11.02 in)".</summary>
    public static string Length(double mm) => FormattableString.Invariant($"{mm:0.#} mm ({mm / 25.4:0.00} in)");

    /// <summary>"front", "left chest".</summary>
    public static string Place(string place) =>
        string.Concat(
            place.Select(
                (c, i) =>
                    char.IsUpper(c) && i > 0 ? " " + char.ToLowerInvariant(c) : char.ToLowerInvariant(c).ToString()
            )
        );

    /// <summary>64 hexadecimal digits in groups of four, as people compare them.</summary>
    public static string Digest(string? hex) =>
        hex is null ? "" : string.Join(' ', hex.Chunk(4).Select(four => new string(four)));

    public static string Count(int n, string one, string many) =>
        n.ToString("#,0", CultureInfo.InvariantCulture) + " " + (n == 1 ? one : many);
}
