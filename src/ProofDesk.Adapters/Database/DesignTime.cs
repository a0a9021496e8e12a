using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace ProofDesk.Adapters.Database;

// For `dotnet ef migrations add NAME --context SqliteOfficeDb --output-dir Database/Migrations/Sqlite`; neither opens a database.
internal sealed class SqliteDesign : IDesignTimeDbContextFactory<SqliteOfficeDb>
{
    public SqliteOfficeDb CreateDbContext(string[] args) =>
        new(new DbContextOptionsBuilder<SqliteOfficeDb>().UseSqlite("Data Source=design-time.db").Options);
}

internal sealed class PostgresDesign : IDesignTimeDbContextFactory<PostgresOfficeDb>
{
    public PostgresOfficeDb CreateDbContext(string[] args) =>
        new(new DbContextOptionsBuilder<PostgresOfficeDb>().UseNpgsql("Host=localhost;Database=design-time").Options);
}
