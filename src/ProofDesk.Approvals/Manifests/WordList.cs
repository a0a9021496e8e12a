namespace ProofDesk.Approvals.Manifests;

/// <summary>The words a format uses for the values of an enumeration.</summary>
internal sealed class WordList<T>(params (T Value, string Word)[] pairs)
    where T : struct, Enum
{
    public IEnumerable<string> Words => pairs.Select(p => p.Word);

    public string Write(T value) =>
        Array.Find(pairs, p => EqualityComparer<T>.Default.Equals(p.Value, value)).Word
        ?? throw new ArgumentOutOfRangeException(nameof(value), value, "the format has no word for this value");

    public bool TryRead(string word, out T value)
    {
        var at = Array.FindIndex(pairs, p => string.Equals(p.Word, word, StringComparison.Ordinal));
        value = at < 0 ? default : pairs[at].Value;
        return at >= 0;
    }
}
