using ProofDesk.Approvals.Decisions;

namespace ProofDesk.Adapters.Database;

/// <summary>The evidence an answer about an order must carry.</summary>
public static class EvidenceAsked
{
    public static EvidenceLevel Of(Order order, ShopSettings shop) =>
        CodeRules.Asked(order.EvidenceAsked, order.ValueMinor, shop.CodeFromValueMinor);
}
