using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Adapters.Database;

/// <summary>Inks, presses and whatever else the shop defines for itself. Nothing is edited: each change is a new version.</summary>
public sealed class ShopDefinitions(Office office, TimeProvider time)
{
    /// <summary>
    /// Writes the version after <paramref name="seen"/> and returns its number; null when somebody else wrote one since.
    /// </summary>
    /// <param name="seen">the version the editor had before them, 0 for a key that is new</param>
    public Task<int?> AddAsync(
        DefinitionKind kind,
        string key,
        string json,
        int seen,
        string actor,
        CancellationToken cancel = default
    ) => WriteAsync(kind, key, seen, actor, _ => (json, Retired: false), cancel);

    /// <summary>Takes a key out of use with a version that says so; null as above, or when there is no such key.</summary>
    public Task<int?> RetireAsync(
        DefinitionKind kind,
        string key,
        int seen,
        string actor,
        CancellationToken cancel = default
    ) => WriteAsync(kind, key, seen, actor, last => last is null ? null : (last.Json, Retired: true), cancel);

    /// <summary>The newest version of each key in use, by key.</summary>
    public async Task<IReadOnlyList<ShopDefinition>> CurrentAsync(
        DefinitionKind kind,
        bool withRetired = false,
        CancellationToken cancel = default
    )
    {
        await using var db = office.Open();
        var newest = await db
            .ShopDefinitions.AsNoTracking()
            .Where(row =>
                row.Kind == kind
                && row.Version
                    == db.ShopDefinitions.Where(other => other.Kind == kind && other.Key == row.Key)
                        .Max(other => other.Version)
                && (withRetired || row.RetiredAt == null)
            )
            .ToListAsync(cancel);
        // The engines order text each in their own way.
        return [.. newest.OrderBy(row => row.Key, StringComparer.Ordinal)];
    }

    /// <summary>One version of a key, the newest unless told; null when there is none. Retired ones are found too.</summary>
    public async Task<ShopDefinition?> FindAsync(
        DefinitionKind kind,
        string key,
        int? version = null,
        CancellationToken cancel = default
    )
    {
        await using var db = office.Open();
        return await Versions(db, kind, key)
            .Where(row => version == null || row.Version == version)
            .FirstOrDefaultAsync(cancel);
    }

    /// <summary>Every version of a key, the newest first.</summary>
    public async Task<IReadOnlyList<ShopDefinition>> HistoryAsync(
        DefinitionKind kind,
        string key,
        CancellationToken cancel = default
    )
    {
        await using var db = office.Open();
        return await Versions(db, kind, key).ToListAsync(cancel);
    }

    private Task<int?> WriteAsync(
        DefinitionKind kind,
        string key,
        int seen,
        string actor,
        Func<ShopDefinition?, (string Json, bool Retired)?> next,
        CancellationToken cancel
    ) =>
        office.WriteAsync<int?>(
            async db =>
            {
                // PostgreSQL writers meet at this lock, so that two of them never take the same version.
                await db.LockLogHeadAsync(cancel);
                var last = await Versions(db, kind, key).FirstOrDefaultAsync(cancel);
                if ((last?.Version ?? 0) != seen || next(last) is not { } said)
                {
                    return null;
                }
                var now = time.GetUtcNow();
                var row = new ShopDefinition
                {
                    Kind = kind,
                    Key = key,
                    Version = seen + 1,
                    Json = said.Json,
                    CreatedAt = now,
                    CreatedBy = actor,
                    RetiredAt = said.Retired ? now : null,
                };
                db.ShopDefinitions.Add(row);
                db.Note(
                    time,
                    actor,
                    said.Retired ? "definition retired" : "definition written",
                    null,
                    $"{kind} {key} version {row.Version}"
                );
                await db.SaveChangesAsync(cancel);
                return row.Version;
            },
            cancel
        );

    private static IQueryable<ShopDefinition> Versions(OfficeDb db, DefinitionKind kind, string key) =>
        db
            .ShopDefinitions.AsNoTracking()
            .Where(row => row.Kind == kind && row.Key == key)
            .OrderByDescending(row => row.Version);
}
