using System.Globalization;

namespace ProofDesk.Approvals.Manifests;

/// <summary>Times as records write them: UTC to the millisecond, 2026-11-24T22:08:34.120Z (RFC 3339 profile).</summary>
public static class UtcText
{
    private const string Form = "yyyy-MM-dd'T'HH:mm:ss.fff'Z'";

    public static string Write(DateTimeOffset time) => time.UtcDateTime.ToString(Form, CultureInfo.InvariantCulture);

    public static bool TryRead(string text, out DateTimeOffset time) =>
        DateTimeOffset.TryParseExact(
            text,
            Form,
            CultureInfo.InvariantCulture,
            DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal,
            out time
        );
}
