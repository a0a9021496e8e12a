using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Web.Production;
using ProofDesk.Web.Proofs;

namespace ProofDesk.Web.Records;

/// <summary>A record together with what its version shows.</summary>
public sealed class RecordReader(Adapters.Database.Records records, VersionReader versions, LogKeeper log, OfficeDb db)
{
    public async Task<RecordPage?> FindAsync(Guid decisionId, CancellationToken cancel)
    {
        if (await records.FindAsync(decisionId, cancel) is not { } record)
            return null;
        var erased = await Happenings.ErasedAsync(db, record.Version.Id, cancel);
        var events = await db
            .LoggedEvents.AsNoTracking()
            .Where(e => e.VersionId == record.Version.Id)
            .OrderBy(e => e.LeafIndex)
            .ToListAsync(cancel);
        return new RecordPage(record, await versions.ReadAsync(record.Version, cancel), log.VerifierKey)
        {
            Events = [.. events.Select(e => Happened.Of(e, erased))],
        };
    }
}
