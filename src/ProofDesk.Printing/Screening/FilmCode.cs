using System.Globalization;

namespace ProofDesk.Printing.Screening;

/// <summary>What the square code on a film says: whose film it is, and the start of the digest of its image area.</summary>
/// <param name="Short">"3F2A-91C0": the first eight hex digits.</param>
public sealed record FilmCode(string Order, string Print, string Version, int Screen, string Short)
{
    private const int MostText = 300;

    /// <summary>"1001/left chest/3/2/3F2A-91C0".</summary>
    public string Text => string.Create(CultureInfo.InvariantCulture, $"{Order}/{Print}/{Version}/{Screen}/{Short}");

    public static string ShortOf(string sha256) => $"{sha256[..4]}-{sha256[4..8]}".ToUpperInvariant();

    /// <summary>Null when the text is no code of a film. The name of a print may hold slashes of its own.</summary>
    public static FilmCode? Parse(string? text)
    {
        if (text is null || text.Length > MostText)
            return null;
        var parts = text.Trim().Split('/');
        if (parts.Length < 5)
            return null;
        var (order, print) = (parts[0].Trim(), string.Join('/', parts[1..^3]).Trim());
        var (version, screen, digits) = (parts[^3].Trim(), parts[^2].Trim(), parts[^1].Trim().ToUpperInvariant());
        var isShort =
            digits.Length == 9
            && digits[4] == '-'
            && digits.Remove(4, 1).All(digit => char.IsAsciiDigit(digit) || digit is >= 'A' and <= 'F');
        return
            order.Length > 0
            && print.Length > 0
            && version.Length > 0
            && isShort
            && int.TryParse(screen, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            && number is >= 1 and <= 99
            ? new FilmCode(order, print, version, number, digits)
            : null;
    }
}
