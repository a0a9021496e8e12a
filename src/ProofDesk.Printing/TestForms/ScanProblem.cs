namespace ProofDesk.Printing.TestForms;

/// <summary>A scan that cannot be read: what is wrong with it and what to do.</summary>
public sealed class ScanProblem(string what, string nextStep) : Exception(what)
{
    public string NextStep { get; } = nextStep;
}
