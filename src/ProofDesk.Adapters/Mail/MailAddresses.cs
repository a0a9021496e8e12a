using MimeKit;

namespace ProofDesk.Adapters.Mail;

/// <summary>What a form may put into a mail header.</summary>
public static class MailAddresses
{
    private const int MostCharacters = 254; // RFC 5321 section 4.5.3.1.3: 256 with the angle brackets.

    /// <summary>Null when mail can be sent there, else what is wrong.</summary>
    public static string? Problem(string address)
    {
        if (string.IsNullOrWhiteSpace(address))
        {
            return "the address is empty";
        }
        if (HasControls(address))
        {
            return "the address has a line break or another control character";
        }
        if (address.Length > MostCharacters)
        {
            return $"the address has {address.Length} characters, at most {MostCharacters} can be delivered";
        }
        return
            MailboxAddress.TryParse(address, out var parsed)
            && string.Equals(parsed.Address, address, StringComparison.Ordinal)
            && address.IndexOf('@', StringComparison.Ordinal) is > 0
            && !address.Contains('"', StringComparison.Ordinal)
            ? null
            : $"\"{address}\" is not a mail address; one looks like name@example.com";
    }

    /// <summary>Line breaks, other controls, and the characters that turn the direction of writing.</summary>
    public static bool HasControls(string text) =>
        text.Any(character =>
            char.IsControl(character) || character is >= '\u202a' and <= '\u202e' or >= '\u2066' and <= '\u2069'
        );
}
