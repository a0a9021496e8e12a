namespace ProofDesk.Approvals.Manifests;

/// <summary>
/// Names of files that are safe on every system: ASCII letters, digits, dot, dash and underscore, "/" between folders, no
/// part that starts or ends with a dot, none of the device names of Windows.
/// </summary>
public static class FilePath
{
    public const int MaxLength = 180;

    public static bool IsSafe(string path) => path.Length is > 0 and <= MaxLength && path.Split('/').All(IsSafePart);

    private static bool IsSafePart(string part) =>
        part.Length > 0
        && part.All(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '_')
        && part[0] != '.'
        && part[^1] != '.'
        && !IsDevice(part.Split('.')[0].ToUpperInvariant());

    private static bool IsDevice(string stem) =>
        stem is "CON" or "PRN" or "AUX" or "NUL"
        || (
            stem.Length == 4
            && (stem.StartsWith("COM", StringComparison.Ordinal) || stem.StartsWith("LPT", StringComparison.Ordinal))
            && char.IsAsciiDigit(stem[3])
        );
}
