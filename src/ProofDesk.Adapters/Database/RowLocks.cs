using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// The only SQL that differs by engine while the server runs. On SQLite a write transaction is already alone; on PostgreSQL the row
/// is locked, and rows another node holds are skipped.
/// </summary>
internal static class RowLocks
{
    public static Task<LogHead> LockLogHeadAsync(this OfficeDb db, CancellationToken cancel) =>
        IsPostgres(db)
            ? db.LogHeads.FromSqlRaw("SELECT * FROM log_head WHERE \"Id\" = 1 FOR UPDATE").SingleAsync(cancel)
            : db.LogHeads.SingleAsync(cancel);

    /// <summary>Those that count the same tries wait for each other until the transaction ends.</summary>
    public static Task LockTriesAsync(this OfficeDb db, string key, CancellationToken cancel) =>
        IsPostgres(db)
            ? db.Database.ExecuteSqlAsync($"SELECT pg_advisory_xact_lock(hashtextextended({key}, 0))", cancel)
            : Task.CompletedTask;

    /// <summary>The next render that is ready or whose holder stopped renewing its lease.</summary>
    public static Task<RenderWork?> LockDueRenderAsync(this OfficeDb db, DateTimeOffset now, CancellationToken cancel)
    {
        var stored = UtcMicroseconds.ToStored(now);
        return (
            IsPostgres(db)
                ? db.RenderWork.FromSql(
                    $"""
                    SELECT * FROM render_work
                    WHERE ("State" = 'Ready' AND "NotBefore" <= {stored}) OR ("State" = 'Running' AND "LeaseUntil" < {stored})
                    ORDER BY "Priority", "Id" FOR UPDATE SKIP LOCKED LIMIT 1
                    """
                )
                : db.RenderWork.Where(IsDue(now)).OrderBy(work => work.Priority).ThenBy(work => work.Id).Take(1)
        ).SingleOrDefaultAsync(cancel);
    }

    /// <summary>The next cell of a compare sheet, as <see cref="LockDueRenderAsync"/>.</summary>
    public static Task<SheetCell?> LockDueCellAsync(this OfficeDb db, DateTimeOffset now, CancellationToken cancel)
    {
        var stored = UtcMicroseconds.ToStored(now);
        return (
            IsPostgres(db)
                ? db.SheetCells.FromSql(
                    $"""
                    SELECT * FROM sheet_cell
                    WHERE ("State" = 'Ready' AND "NotBefore" <= {stored}) OR ("State" = 'Running' AND "LeaseUntil" < {stored})
                    ORDER BY "CreatedAt", "Position" FOR UPDATE SKIP LOCKED LIMIT 1
                    """
                )
                : db
                    .SheetCells.Where(CellIsDue(now))
                    .OrderBy(cell => cell.CreatedAt)
                    .ThenBy(cell => cell.Position)
                    .Take(1)
        ).SingleOrDefaultAsync(cancel);
    }

    public static Task<OutboxMail?> LockDueMailAsync(this OfficeDb db, DateTimeOffset now, CancellationToken cancel)
    {
        var stored = UtcMicroseconds.ToStored(now);
        return (
            IsPostgres(db)
                ? db.OutboxMails.FromSql(
                    $"""
                    SELECT * FROM outbox_mail
                    WHERE ("State" IN ('Waiting', 'Uncertain') AND "NextAttemptAt" <= {stored})
                       OR ("State" = 'Sending' AND "LeaseUntil" < {stored})
                    ORDER BY "NextAttemptAt", "Id" FOR UPDATE SKIP LOCKED LIMIT 1
                    """
                )
                : db
                    .OutboxMails.Where(MailIsDue(now))
                    .OrderBy(mail => mail.NextAttemptAt)
                    .ThenBy(mail => mail.Id)
                    .Take(1)
        ).SingleOrDefaultAsync(cancel);
    }

    public static System.Linq.Expressions.Expression<Func<RenderWork, bool>> IsDue(DateTimeOffset now) =>
        work =>
            (work.State == RenderState.Ready && work.NotBefore <= now)
            || (work.State == RenderState.Running && work.LeaseUntil < now);

    public static System.Linq.Expressions.Expression<Func<SheetCell, bool>> CellIsDue(DateTimeOffset now) =>
        cell =>
            (cell.State == CellState.Ready && cell.NotBefore <= now)
            || (cell.State == CellState.Running && cell.LeaseUntil < now);

    public static System.Linq.Expressions.Expression<Func<OutboxMail, bool>> MailIsDue(DateTimeOffset now) =>
        mail =>
            ((mail.State == MailState.Waiting || mail.State == MailState.Uncertain) && mail.NextAttemptAt <= now)
            || (mail.State == MailState.Sending && mail.LeaseUntil < now);

    private static bool IsPostgres(OfficeDb db) => db is PostgresOfficeDb;
}
