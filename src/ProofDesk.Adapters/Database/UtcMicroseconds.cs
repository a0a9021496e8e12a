using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace ProofDesk.Adapters.Database;

/// <summary>
/// Times are stored as whole microseconds since 1970 UTC: both engines order and compare integers alike, and SQLite cannot order
/// a DateTimeOffset at all.
/// </summary>
internal sealed class UtcMicroseconds()
    : ValueConverter<DateTimeOffset, long>(time => ToStored(time), stored => FromStored(stored))
{
    private const long TicksPerMicrosecond = TimeSpan.TicksPerMicrosecond;

    public static long ToStored(DateTimeOffset time) =>
        (time.UtcTicks - DateTimeOffset.UnixEpoch.Ticks) / TicksPerMicrosecond;

    public static DateTimeOffset FromStored(long stored) =>
        new(DateTimeOffset.UnixEpoch.Ticks + (stored * TicksPerMicrosecond), TimeSpan.Zero);
}
