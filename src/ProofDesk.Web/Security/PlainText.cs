using System.Globalization;
using System.Text;

namespace ProofDesk.Web.Security;

/// <summary>What text may hold that somebody typed, and how text of others is written where lines mean something.</summary>
public static class PlainText
{
    private const int MostOfAFileName = 200;

    /// <summary>
    /// A character that is no text: controls but tab and line break, codes that are no character, and the marks that make what
    /// follows run the other way (U+202A to U+202E), with which a name can be made to look like another. The marks that only
    /// isolate (U+2066 to U+2069) stay: telephones put them into what is copied there.
    /// </summary>
    public static char? Foreign(string text)
    {
        foreach (var c in text)
        {
            if (
                (char.IsControl(c) && c is not ('\t' or '\n' or '\r'))
                || c is '\ufffe' or '\uffff'
                || TurnsDirection(c)
            )
                return c;
        }
        return null;
    }

    /// <summary>On one line: breaks, controls and direction marks as \uXXXX, so that no text can write a line of its own.</summary>
    public static string OnOneLine(string text)
    {
        if (!text.Any(MustBeWritten))
            return text;
        var line = new StringBuilder(text.Length + 16);
        foreach (var c in text)
        {
            if (MustBeWritten(c))
                line.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:x4}");
            else
                line.Append(c);
        }
        return line.ToString();
    }

    /// <summary>A file's name as text: without its folder, controls and direction marks, composed, at most 200 characters.</summary>
    public static string FileName(string given)
    {
        var name = Path.GetFileName(given.Replace('\\', '/'));
        var kept = new StringBuilder(name.Length);
        foreach (var rune in name.EnumerateRunes())
        {
            var c = rune.IsBmp ? (char)rune.Value : 'x';
            if (
                !char.IsControl(c)
                && !TurnsDirection(c)
                && c is not ('\ufffe' or '\uffff' or >= '\u2066' and <= '\u2069')
            )
                kept.Append(rune);
        }
        var text = kept.ToString().Normalize(NormalizationForm.FormC).Trim();
        return text.Length <= MostOfAFileName ? text : Cut(text) + Path.GetExtension(text[^16..]);
    }

    // Not through the middle of a character.
    private static string Cut(string text)
    {
        var length = MostOfAFileName - 16;
        return text[..(char.IsHighSurrogate(text[length - 1]) ? length - 1 : length)];
    }

    private static bool TurnsDirection(char c) => c is >= '\u202a' and <= '\u202e';

    private static bool MustBeWritten(char c) =>
        char.IsControl(c) || TurnsDirection(c) || c is >= '\u2066' and <= '\u2069' or '\u2028' or '\u2029';
}
