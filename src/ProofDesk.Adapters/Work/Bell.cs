namespace ProofDesk.Adapters.Work;

/// <summary>
/// Wakes a worker of this process at once. Only a convenience: other nodes and restarts are found by asking the table each second.
/// </summary>
public abstract class Bell : IDisposable
{
    private readonly SemaphoreSlim _rung = new(0, 1);
    private readonly Lock _one = new();

    public void Ring()
    {
        lock (_one)
        {
            if (_rung.CurrentCount == 0)
            {
                _rung.Release();
            }
        }
    }

    public Task WaitAsync(TimeSpan most, CancellationToken cancel) => _rung.WaitAsync(most, cancel);

    public void Dispose()
    {
        _rung.Dispose();
        GC.SuppressFinalize(this);
    }
}

public sealed class RenderBell : Bell;

public sealed class OutboxBell : Bell;
