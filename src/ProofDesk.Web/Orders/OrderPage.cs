using ProofDesk.Adapters.Database;
using ProofDesk.Adapters.Work;
using ProofDesk.Web.Start;

namespace ProofDesk.Web.Orders;

public sealed record OrderPage(
    Order Order,
    IReadOnlyList<Decision> Decisions,
    IReadOnlyList<OutboxMail> Mails,
    IReadOnlyList<AuditEvent> Trail,
    RenderView? Work,
    Garments Garments
)
{
    public ProofVersion? Latest => Order.Versions.FirstOrDefault();

    public string GroundName(OrderLine line) =>
        Garments.Find(line.GarmentId, line.ColourId) is { } ground
            ? $"{ground.Garment.Name}, {ground.Colour.Name}"
            : $"{line.GarmentId}, {line.ColourId}";
}
