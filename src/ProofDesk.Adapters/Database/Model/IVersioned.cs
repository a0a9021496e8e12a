namespace ProofDesk.Adapters.Database;

/// <summary>
/// A row whose version the application counts: SQLite has no generated concurrency token, so neither engine uses one.
/// </summary>
public interface IVersioned
{
    long RowVersion { get; set; }
}
