using System.Text;
using System.Text.RegularExpressions;

namespace ProofDesk.Web.Reviews;

/// <summary>
/// English made half as long again with letters that carry marks, between brackets: what stays plain was not taken from the texts,
/// and what hangs over an edge has no room for other languages.
/// </summary>
internal static partial class PseudoText
{
    private const string Plain = "aeiouyAEIOUcnszlr";
    private const string Marked = "àéîöûÿÀÉÎÖÛçñšžłř";

    public static string Of(string text)
    {
        var made = new StringBuilder("[");
        var letters = 0;
        foreach (var part in Places().Split(text))
        {
            if (part.StartsWith('{'))
            {
                made.Append(part);
                continue;
            }
            foreach (var sign in part)
            {
                var at = Plain.IndexOf(sign, StringComparison.Ordinal);
                made.Append(at < 0 ? sign : Marked[at]);
                // Every second vowel once more: words become longer, not only sentences.
                if (at is >= 0 and < 5 && letters++ % 2 == 0)
                    made.Append(Marked[at]);
            }
        }
        return made.Append(text.Length > 12 ? " ~~~]" : "]").ToString();
    }

    // {0}, {1:0.00}: they are filled in afterwards.
    [GeneratedRegex("(?<place>\\{[0-9][^}]*\\})", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Places();
}
