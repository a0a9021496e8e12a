using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using ProofDesk.Adapters.Files;

namespace ProofDesk.Adapters.Operations;

/// <summary>
/// A file that does nothing but take room. When the database finds the disk full it is removed and the transaction runs again, so
/// that a client's decision is still written while uploads and renders are refused; it is made anew once there is room.
/// </summary>
public sealed class DiskReserve(OfficeSettings settings, DataFolder folder)
{
    private readonly Lock _one = new();

    public long Bytes => settings.ReserveMegabytes * 1_000_000L;

    /// <summary>True while the room is kept, or when none is wanted.</summary>
    public bool Held => Bytes == 0 || File.Exists(folder.Reserve);

    public long FreeBytes => new DriveInfo(folder.Root).AvailableFreeSpace;

    /// <summary>Gives the room back to the disk. False when there was none to give.</summary>
    public bool Release()
    {
        lock (_one)
        {
            if (!File.Exists(folder.Reserve))
            {
                return false;
            }
            File.Delete(folder.Reserve);
            return true;
        }
    }

    /// <summary>Takes the room when there is twice as much of it. False when it could not.</summary>
    public bool Take()
    {
        lock (_one)
        {
            if (Held)
            {
                return true;
            }
            if (FreeBytes < 2 * Bytes)
            {
                return false;
            }
            try
            {
                // The size given beforehand is allocated, not merely named (fallocate); the length makes it visible in a listing.
                using var file = new FileStream(
                    folder.Reserve,
                    new FileStreamOptions
                    {
                        Mode = FileMode.CreateNew,
                        Access = FileAccess.Write,
                        PreallocationSize = Bytes,
                    }
                );
                file.SetLength(Bytes);
                return true;
            }
            catch (IOException)
            {
                File.Delete(folder.Reserve);
                return false;
            }
        }
    }
}

/// <summary>Looks once a minute whether the room can be taken again.</summary>
internal sealed class ReserveKeeper(DiskReserve reserve, TimeProvider time, ILogger<ReserveKeeper> log)
    : BackgroundService
{
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var said = false;
        try
        {
            while (true)
            {
                var held = reserve.Take();
                if (!held && !said)
                {
                    log.LogError(
                        "the disk of the data folder is nearly full: {Free} MB are free, {Kept} MB are kept back for decisions",
                        reserve.FreeBytes / 1_000_000,
                        reserve.Bytes / 1_000_000
                    );
                }
                said = !held;
                await Task.Delay(TimeSpan.FromMinutes(1), time, stoppingToken);
            }
        }
        catch (OperationCanceledException) { }
    }
}
