using ProofDesk.Printing.Separations;

namespace ProofDesk.Cli;

/// <summary>Guesses the word that was meant.</summary>
internal static class Nearest
{
    /// <summary>"; did you mean 'make'?" when one of the words is near, else nothing.</summary>
    public static string Guess(string word, IEnumerable<string> words) => NearestName.Guess(word, words);
}
