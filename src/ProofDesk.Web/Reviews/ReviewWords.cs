using System.Globalization;

namespace ProofDesk.Web.Reviews;

/// <summary>A sign of a word as it is set, and what it is called where it can be taken for another; null elsewhere.</summary>
public sealed record SpelledSign(string Sign, string? Said);

/// <summary>Signs that look like others in many typefaces are said aloud, so that 0 and O are not passed over.</summary>
public static class ReviewWords
{
    private const string Alike = "0O1lI5S";

    /// <summary>
    /// The parts of a line that can be misread, sign by sign: figures in a line that has letters too, words in which both meet, and
    /// words with a small L and a capital i. In plain words nobody reads an O as a zero.
    /// </summary>
    public static IReadOnlyList<SpelledSign> Spelled(string word)
    {
        var letters = word.Any(char.IsLetter);
        var signs = new List<SpelledSign>();
        foreach (var part in word.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var figures = letters && part.Any(char.IsAsciiDigit);
            if (!figures && !(part.Contains('l') && part.Contains('I')))
                continue;
            if (signs.Count > 0)
                signs.Add(new(" ", null));
            var walk = StringInfo.GetTextElementEnumerator(part);
            while (walk.MoveNext())
            {
                var sign = walk.GetTextElement();
                var isAlike = sign.Length == 1 && Alike.Contains(sign[0]) && (figures || sign[0] is 'l' or 'I');
                signs.Add(new(sign, isAlike ? ReviewText.Sign(sign[0]) : null));
            }
        }
        return signs.Exists(s => s.Said is not null) ? signs : [];
    }

    /// <summary>"0: zero, O: letter O".</summary>
    public static string LookAlikes(string word) =>
        string.Join(
            ", ",
            Spelled(word).Where(s => s.Said is not null).DistinctBy(s => s.Sign).Select(s => $"{s.Sign}: {s.Said}")
        );
}
