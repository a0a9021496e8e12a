namespace ProofDesk.Approvals.Log;

/// <summary>RFC 4648 section 4 without slack: one text for one value, no white space, no stray bits in the last digit.</summary>
internal static class NoteBase64
{
    public static bool TryDecode(string text, out byte[] bytes)
    {
        bytes = new byte[(text.Length / 4 * 3) + 3];
        if (!Convert.TryFromBase64String(text, bytes, out var written))
        {
            return false;
        }

        bytes = bytes[..written];
        return string.Equals(Convert.ToBase64String(bytes), text, StringComparison.Ordinal);
    }
}
