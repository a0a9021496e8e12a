using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;

namespace ProofDesk.Adapters.Sheets;

/// <summary>What a link of a sheet turned out to be.</summary>
public abstract record SheetOpening
{
    private SheetOpening() { }

    /// <summary>The checksum characters do not fit: cut off or mistyped.</summary>
    public sealed record Incomplete : SheetOpening;

    /// <summary>Well formed, never given out.</summary>
    public sealed record Unknown : SheetOpening;

    public sealed record Gone(bool Revoked) : SheetOpening;

    public sealed record Open(Guid LinkId, Guid SheetId) : SheetOpening;
}

/// <summary>
/// Links that show a sheet. Whoever has one may look and say what he likes best; there is no way from here to a decision, an order
/// or a file that is not a picture of the sheet.
/// </summary>
public sealed class SheetLinks(Office office, TimeProvider time)
{
    public const int MostOpen = 20;
    public const int LongestDays = 90;
    public const int MostWords = 1000;
    public const int LongestName = 200;

    /// <summary>The token of a new link, to be shown once; null when too many are open.</summary>
    public Task<string?> GiveAsync(
        Guid sheetId,
        string forWhom,
        int days,
        string actor,
        CancellationToken cancel = default
    ) =>
        office.WriteAsync(
            async db =>
            {
                var now = time.GetUtcNow();
                var sheet = await db.CompareSheets.SingleAsync(row => row.Id == sheetId, cancel);
                var open = await db.SheetLinks.CountAsync(
                    row => row.SheetId == sheetId && row.RevokedAt == null && row.ExpiresAt > now,
                    cancel
                );
                if (open >= MostOpen)
                {
                    return null;
                }
                var token = LinkToken.New();
                db.SheetLinks.Add(
                    new SheetLink
                    {
                        SheetId = sheetId,
                        TokenSha256 = LinkToken.DigestOf(token),
                        ForWhom = forWhom,
                        CreatedBy = actor,
                        CreatedAt = now,
                        ExpiresAt = now.AddDays(Math.Clamp(days, 1, LongestDays)),
                    }
                );
                db.Note(time, actor, "link of a compare sheet given out", sheet.OrderId, sheet.Title);
                await db.SaveChangesAsync(cancel);
                return token;
            },
            cancel
        );

    /// <summary>False when the sheet has no such link.</summary>
    public Task<bool> RevokeAsync(Guid sheetId, Guid linkId, string actor, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                var link = await db.SheetLinks.SingleOrDefaultAsync(
                    row => row.Id == linkId && row.SheetId == sheetId,
                    cancel
                );
                if (link is null)
                {
                    return false;
                }
                if (link.RevokedAt is null)
                {
                    link.RevokedAt = time.GetUtcNow();
                    var sheet = await db.CompareSheets.SingleAsync(row => row.Id == sheetId, cancel);
                    db.Note(time, actor, "link of a compare sheet called back", sheet.OrderId, sheet.Title);
                    await db.SaveChangesAsync(cancel);
                }
                return true;
            },
            cancel
        );

    public async Task<SheetOpening> OpenAsync(string token, CancellationToken cancel = default)
    {
        if (!LinkToken.IsWhole(token))
        {
            return new SheetOpening.Incomplete();
        }
        var digest = LinkToken.DigestOf(token);
        await using var db = office.Open();
        return Opened(
            await db.SheetLinks.AsNoTracking().SingleOrDefaultAsync(row => row.TokenSha256 == digest, cancel)
        );
    }

    /// <summary>Read again at each request, so that a link called back closes at once.</summary>
    public async Task<SheetOpening> OpenAsync(Guid linkId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return Opened(await db.SheetLinks.AsNoTracking().SingleOrDefaultAsync(row => row.Id == linkId, cancel));
    }

    public async Task<IReadOnlyList<SheetLink>> OfSheetAsync(Guid sheetId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db
            .SheetLinks.AsNoTracking()
            .Where(row => row.SheetId == sheetId)
            .OrderByDescending(row => row.CreatedAt)
            .ToListAsync(cancel);
    }

    /// <summary>What holders of links like best, newest first.</summary>
    public async Task<IReadOnlyList<SheetPreference>> PreferencesAsync(Guid sheetId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db
            .SheetPreferences.AsNoTracking()
            .Where(row => row.SheetId == sheetId)
            .OrderByDescending(row => row.At)
            .ToListAsync(cancel);
    }

    /// <summary>
    /// Keeps what the holder of a link likes best in place of what he said before. Nothing else changes: no version, no order, no
    /// leaf of the log.
    /// </summary>
    /// <returns>false when the link is closed or the sheet has no such finished cell</returns>
    public Task<bool> PreferAsync(
        Guid linkId,
        Guid cellId,
        string name,
        string words,
        CancellationToken cancel = default
    ) =>
        office.WriteAsync(
            async db =>
            {
                var link = await db.SheetLinks.SingleOrDefaultAsync(row => row.Id == linkId, cancel);
                if (
                    Opened(link) is not SheetOpening.Open open
                    || !await db.SheetCells.AnyAsync(
                        row => row.Id == cellId && row.SheetId == open.SheetId && row.State == CellState.Done,
                        cancel
                    )
                )
                {
                    return false;
                }
                var said = await db.SheetPreferences.SingleOrDefaultAsync(row => row.LinkId == linkId, cancel);
                if (said is null)
                {
                    said = new SheetPreference
                    {
                        LinkId = linkId,
                        SheetId = open.SheetId,
                        Name = name,
                    };
                    db.SheetPreferences.Add(said);
                }
                (said.CellId, said.Name, said.Words, said.At) = (cellId, name, words, time.GetUtcNow());
                await db.SaveChangesAsync(cancel);
                return true;
            },
            cancel
        );

    private SheetOpening Opened(SheetLink? link) =>
        link is null ? new SheetOpening.Unknown()
        : link.RevokedAt is not null ? new SheetOpening.Gone(Revoked: true)
        : link.ExpiresAt <= time.GetUtcNow() ? new SheetOpening.Gone(Revoked: false)
        : new SheetOpening.Open(link.Id, link.SheetId);
}
