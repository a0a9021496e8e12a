namespace ProofDesk.Printing.Proofs;

/// <summary>A recipe that cannot be made again here; the message says what stands where, and what would do.</summary>
public sealed class RecipeProblem(string message) : Exception(message);
