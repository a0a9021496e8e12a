using ProofDesk.Adapters.Work;
using ProofDesk.Approvals.Decisions;
using ProofDesk.Approvals.Manifests;

namespace ProofDesk.Web.Renders;

/// <summary>What the client of a version signs, in each language.</summary>
internal static class Sentences
{
    public static Dictionary<string, string> Of(RenderJob job, ProofOrder order, int screens, HandOver handOver) =>
        StatementTexts.Locales.ToDictionary(
            locale => locale,
            locale =>
                StatementTexts.Write(
                    locale,
                    $"{order.Number} {order.Title}",
                    job.VersionNumber,
                    screens,
                    handOver,
                    [.. job.ShopLines]
                )
        );
}
