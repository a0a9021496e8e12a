using Microsoft.EntityFrameworkCore;

namespace ProofDesk.Adapters.Database;

internal static class Trailing
{
    public static void Note(
        this OfficeDb db,
        TimeProvider time,
        string actor,
        string action,
        Guid? orderId,
        string detail
    ) =>
        db.AuditEvents.Add(
            new AuditEvent
            {
                At = time.GetUtcNow(),
                Actor = actor,
                Action = action,
                OrderId = orderId,
                Detail = detail,
            }
        );

    /// <summary>The shop's row, or what stands in for it before the shop has written it.</summary>
    public static async Task<ShopSettings> ShopAsync(this OfficeDb db, CancellationToken cancel) =>
        await db.Shop.AsNoTracking().SingleOrDefaultAsync(cancel) ?? new ShopSettings { Name = "ProofDesk" };
}
