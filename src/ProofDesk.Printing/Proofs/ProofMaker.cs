namespace ProofDesk.Printing.Proofs;

/// <summary>The steps of a proof, in order. The server's worker and the command line both call this.</summary>
public static class ProofMaker
{
    /// <summary>Makes the whole proof of one print.</summary>
    /// <exception cref="OperationCanceledException"><paramref name="cancel"/> was set.</exception>
    public static Proof Make(ProofRequest request, IProgress<ProofProgress>? progress, CancellationToken cancel) =>
        throw new NotSupportedException();
}
