namespace ProofDesk.Web.Reviews;

/// <summary>Characters that look like others in many typefaces are said aloud, so that 0 and O are not passed over.</summary>
public static class ReviewWords
{
    private static readonly (char Sign, string Said)[] Alike =
    [
        ('0', "0 is a zero"),
        ('O', "O is a letter"),
        ('1', "1 is a one"),
        ('l', "l is a small L"),
        ('I', "I is a capital i"),
        ('5', "5 is a five"),
        ('S', "S is a letter"),
    ];

    public static string LookAlikes(string word)
    {
        // Only where figures and letters meet: in plain words nobody reads an O as a zero.
        if (!word.Any(char.IsDigit) || !word.Any(char.IsLetter))
            return "";
        return string.Join(", ", Alike.Where(a => word.Contains(a.Sign)).Select(a => a.Said));
    }
}
