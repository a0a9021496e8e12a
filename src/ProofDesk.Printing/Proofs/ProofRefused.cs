using System.Collections.Immutable;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Proofs;

/// <summary>The art or the settings cannot become a proof; all findings are carried, the refusals among them.</summary>
public sealed class ProofRefused(ImmutableArray<Finding> findings)
    : Exception(string.Join("; ", findings.Where(f => f.Weight == FindingWeight.Refusal).Select(f => f.Message)))
{
    public ImmutableArray<Finding> Findings { get; } = findings;

    internal static void ThrowIfAny(ImmutableArray<Finding> findings)
    {
        if (findings.Any(f => f.Weight == FindingWeight.Refusal))
            throw new ProofRefused(findings);
    }
}
