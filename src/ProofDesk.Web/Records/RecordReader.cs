using ProofDesk.Adapters.Database;
using ProofDesk.Web.Proofs;

namespace ProofDesk.Web.Records;

/// <summary>A record together with what its version shows.</summary>
public sealed class RecordReader(Adapters.Database.Records records, VersionReader versions, LogKeeper log)
{
    public async Task<RecordPage?> FindAsync(Guid decisionId, CancellationToken cancel) =>
        await records.FindAsync(decisionId, cancel) is { } record
            ? new RecordPage(record, await versions.ReadAsync(record.Version, cancel), log.VerifierKey)
            : null;
}
