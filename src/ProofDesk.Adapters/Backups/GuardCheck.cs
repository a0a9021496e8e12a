using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Database.Migrations;

namespace ProofDesk.Adapters.Backups;

/// <summary>The engine's own checks, and the triggers that keep sealed rows: there, unchanged, switched on.</summary>
internal static class GuardCheck
{
    public static Task RunAsync(OfficeDb db, bool sqlite, StoreFindings found, CancellationToken cancel) =>
        sqlite ? SqliteAsync(db, found, cancel) : PostgresAsync(db, found, cancel);

    private static async Task SqliteAsync(OfficeDb db, StoreFindings found, CancellationToken cancel)
    {
        foreach (var row in await RowsAsync(db, "PRAGMA integrity_check", cancel))
        {
            if (row[0] is not "ok")
            {
                found.Wrong("database.damaged", $"the database file is damaged: {row[0]}; restore it from a backup");
            }
        }
        foreach (var row in await RowsAsync(db, "PRAGMA foreign_key_check", cancel))
        {
            found.Wrong("database.dangling", $"row {row[1]} of {row[0]} names a row of {row[2]} that is not there");
        }
        var there = (
            await RowsAsync(db, "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'", cancel)
        ).ToDictionary(row => row[0], row => row[1], StringComparer.Ordinal);
        foreach (
            var (name, told) in Standing(
                Guards.Sqlite().Concat(Guards.DefinitionsSqlite()).Concat(Guards.EventsSqlite())
            )
        )
        {
            Compare(name, told.TrimEnd(';'), there.GetValueOrDefault(name), found);
        }
    }

    private static async Task PostgresAsync(OfficeDb db, StoreFindings found, CancellationToken cancel)
    {
        var there = (
            await RowsAsync(
                db,
                "SELECT t.tgname, CASE WHEN t.tgenabled = 'O' THEN p.prosrc ELSE 'switched off' END FROM pg_trigger t JOIN pg_proc p "
                    + "ON p.oid = t.tgfoid WHERE NOT t.tgisinternal",
                cancel
            )
        ).ToDictionary(row => row[0], row => row[1], StringComparer.Ordinal);
        var told = Guards.Postgres().Concat(Guards.DefinitionsPostgres()).Concat(Guards.EventsPostgres()).ToList();
        var bodies = told.Where(text => text.Contains("$$", StringComparison.Ordinal))
            .GroupBy(FunctionName, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => group.Last().Split("$$")[1], StringComparer.Ordinal);
        foreach (var (name, text) in Standing(told))
        {
            var function = text[(text.LastIndexOf(' ') + 1)..].Split('(')[0];
            Compare(name, bodies[function], there.GetValueOrDefault(name), found);
        }
    }

    private static void Compare(string name, string told, string? there, StoreFindings found)
    {
        if (there is null)
        {
            found.Wrong(
                "guard.missing",
                $"the guard {name} is gone from the database: sealed rows could be changed unseen"
            );
        }
        else if (!string.Equals(there, told, StringComparison.Ordinal))
        {
            found.Wrong("guard.changed", $"the guard {name} is not the one this version made: {there}");
        }
    }

    // Later migrations drop and make anew; what stands at the end counts.
    private static Dictionary<string, string> Standing(IEnumerable<string> statements)
    {
        var standing = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var statement in statements)
        {
            var words = statement.Split(' ', 4);
            if (words is ["CREATE", "TRIGGER", var made, ..])
            {
                standing[made] = statement;
            }
            else if (words is ["DROP", "TRIGGER", var dropped, ..])
            {
                standing.Remove(dropped.TrimEnd(';'));
            }
        }
        return standing;
    }

    private static string FunctionName(string statement)
    {
        var from = statement.IndexOf("FUNCTION ", StringComparison.Ordinal) + "FUNCTION ".Length;
        return statement[from..statement.IndexOf('(', from)];
    }

    private static async Task<List<string[]>> RowsAsync(OfficeDb db, string sql, CancellationToken cancel)
    {
        await using var command = db.Database.GetDbConnection().CreateCommand();
        command.CommandText = sql;
        command.Transaction = (
            (Microsoft.EntityFrameworkCore.Infrastructure.IInfrastructure<DbTransaction>?)db.Database.CurrentTransaction
        )?.Instance;
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var rows = new List<string[]>();
        while (await reader.ReadAsync(cancel))
        {
            rows.Add([
                .. Enumerable
                    .Range(0, reader.FieldCount)
                    .Select(i => reader.IsDBNull(i) ? "" : $"{reader.GetValue(i)}"),
            ]);
        }
        return rows;
    }
}
