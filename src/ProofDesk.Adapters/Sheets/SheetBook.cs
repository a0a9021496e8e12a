using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Work;

namespace ProofDesk.Adapters.Sheets;

/// <summary>Compare sheets: made, looked up, stopped and taken up again.</summary>
public sealed class SheetBook(Office office, RenderBell bell, TimeProvider time)
{
    /// <summary>Keeps the sheet with its cells, which are then made one after the other.</summary>
    public async Task<Guid> AddAsync(CompareSheet sheet, string actor, CancellationToken cancel = default)
    {
        await office.WriteAsync(
            async db =>
            {
                var now = time.GetUtcNow();
                (sheet.CreatedAt, sheet.CreatedBy) = (now, actor);
                foreach (var cell in sheet.Cells)
                {
                    (cell.CreatedAt, cell.NotBefore) = (now, now);
                }
                db.CompareSheets.Add(sheet);
                db.Note(time, actor, "compare sheet asked", sheet.OrderId, $"{sheet.Title}, {sheet.Cells.Count} cells");
                await db.SaveChangesAsync(cancel);
            },
            cancel
        );
        bell.Ring();
        return sheet.Id;
    }

    /// <summary>With cells in their order, or null.</summary>
    public async Task<CompareSheet?> FindAsync(Guid sheetId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db
            .CompareSheets.AsNoTracking()
            .Include(row => row.Cells.OrderBy(cell => cell.Position))
            .SingleOrDefaultAsync(row => row.Id == sheetId, cancel);
    }

    /// <summary>Newest first, with the state of their cells alone.</summary>
    public async Task<IReadOnlyList<SheetCard>> ListAsync(int most, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db
            .CompareSheets.AsNoTracking()
            .OrderByDescending(row => row.CreatedAt)
            .Take(most)
            .Select(row => new SheetCard(
                row.Id,
                row.Title,
                row.OrderId,
                row.ArtFileName,
                row.CreatedBy,
                row.CreatedAt,
                row.Cells.Count,
                row.Cells.Count(cell => cell.State == CellState.Ready || cell.State == CellState.Running),
                db.SheetPreferences.Count(said => said.SheetId == row.Id)
            ))
            .ToListAsync(cancel);
    }

    public async Task<SheetCell?> CellAsync(Guid sheetId, Guid cellId, CancellationToken cancel = default)
    {
        await using var db = office.Open();
        return await db
            .SheetCells.AsNoTracking()
            .SingleOrDefaultAsync(row => row.Id == cellId && row.SheetId == sheetId, cancel);
    }

    /// <summary>Cells that nobody has begun are left; the one that is being made is finished.</summary>
    public Task StopAsync(Guid sheetId, string actor, CancellationToken cancel = default) =>
        office.WriteAsync(
            async db =>
            {
                var now = time.GetUtcNow();
                var stopped = await db
                    .SheetCells.Where(row => row.SheetId == sheetId && row.State == CellState.Ready)
                    .ExecuteUpdateAsync(
                        set =>
                            set.SetProperty(row => row.State, CellState.Cancelled)
                                .SetProperty(row => row.FinishedAt, now),
                        cancel
                    );
                await NoteAsync(db, sheetId, actor, "compare sheet stopped", $"{stopped} cells", cancel);
            },
            cancel
        );

    /// <summary>What broke or was stopped is made again. What a method cannot do stays as it is.</summary>
    public async Task TryAgainAsync(Guid sheetId, string actor, CancellationToken cancel = default)
    {
        await office.WriteAsync(
            async db =>
            {
                var now = time.GetUtcNow();
                var again = await db
                    .SheetCells.Where(row =>
                        row.SheetId == sheetId && (row.State == CellState.Failed || row.State == CellState.Cancelled)
                    )
                    .ExecuteUpdateAsync(
                        set =>
                            set.SetProperty(row => row.State, CellState.Ready)
                                .SetProperty(row => row.Attempts, 0)
                                .SetProperty(row => row.NotBefore, now)
                                .SetProperty(row => row.Error, (string?)null)
                                .SetProperty(row => row.FinishedAt, (DateTimeOffset?)null),
                        cancel
                    );
                await NoteAsync(db, sheetId, actor, "compare sheet taken up again", $"{again} cells", cancel);
            },
            cancel
        );
        bell.Ring();
    }

    private async Task NoteAsync(
        OfficeDb db,
        Guid sheetId,
        string actor,
        string action,
        string detail,
        CancellationToken cancel
    )
    {
        var sheet = await db.CompareSheets.AsNoTracking().SingleAsync(row => row.Id == sheetId, cancel);
        db.Note(time, actor, action, sheet.OrderId, $"{sheet.Title}, {detail}");
        await db.SaveChangesAsync(cancel);
    }
}

/// <summary>A sheet as a list shows it.</summary>
/// <param name="Waiting">Cells that are still to be made.</param>
/// <param name="Preferences">How many links have said what they like best.</param>
public sealed record SheetCard(
    Guid Id,
    string Title,
    Guid? OrderId,
    string ArtFileName,
    string CreatedBy,
    DateTimeOffset CreatedAt,
    int Cells,
    int Waiting,
    int Preferences
);
