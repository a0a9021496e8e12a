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
}
