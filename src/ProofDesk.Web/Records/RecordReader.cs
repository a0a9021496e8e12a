using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Production;
using ProofDesk.Web.Proofs;

namespace ProofDesk.Web.Records;

/// <summary>A record together with what its version shows.</summary>
public sealed class RecordReader(Adapters.Database.Records records, VersionReader versions, LogKeeper log, OfficeDb db)
{
    public async Task<RecordPage?> FindAsync(Guid decisionId, CancellationToken cancel) =>
        await records.FindAsync(decisionId, cancel) is { } record
            ? new RecordPage(record, await versions.ReadAsync(record.Version, cancel), log.VerifierKey)
            {
                Events =
                [
                    .. (
                        await db
                            .LoggedEvents.AsNoTracking()
                            .Where(e => e.VersionId == record.Version.Id)
                            .OrderBy(e => e.LeafIndex)
                            .ToListAsync(cancel)
                    ).Select(Happened.Of),
                ],
            }
            : null;
}
