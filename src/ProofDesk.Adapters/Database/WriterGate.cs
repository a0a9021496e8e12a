using Microsoft.Data.Sqlite;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// One fair writer in front of SQLite. Bare busy-retry let a waiting approval starve for 5 s among 64 callers; a queue brought the
/// 99th percentile from 4.07 s to 1.16 s. A semaphore's asynchronous waiters are served in the order they came.
/// PostgreSQL has row locks of its own and needs no gate.
/// </summary>
internal sealed class WriterGate(bool closed) : IDisposable
{
    private volatile bool _blocked;
    private readonly SemaphoreSlim? _one = closed ? new SemaphoreSlim(1, 1) : null;

    public Task EnterAsync(CancellationToken cancel) => _one?.WaitAsync(cancel) ?? Task.CompletedTask;

    /// <summary>Another program held the file for as long as we wait.</summary>
    public void Blocked() => _blocked = true;

    public void Written() => _blocked = false;

    /// <summary>
    /// While another program holds the file, each writer at the head of the queue waits its five seconds in vain. Whoever stood in
    /// the queue that long meanwhile is told at once instead of waiting them again.
    /// </summary>
    public void RefuseWhoWaited(TimeSpan waited)
    {
        if (_blocked && waited.TotalSeconds >= SqliteEngine.BusySeconds)
        {
            throw new SqliteException("another program holds the database", 5);
        }
    }

    public void Leave() => _one?.Release();

    public void Dispose() => _one?.Dispose();
}
