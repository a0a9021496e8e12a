using ProofDesk.Printing.Methods;

namespace ProofDesk.Printing.Advice;

/// <summary>What washing does to a print of each method: common practice, from memory; nothing here was measured.</summary>
internal static class Wash
{
    /// <summary>Null where a finding of the method says it already.</summary>
    public static string? Of(PrintMethod method) =>
        method.Id switch
        {
            "plastisol" or "simulated-process" or "four-colour-process" =>
                "A film that is fused through lasts as long as the shirt and cracks late; one that is not washes off, so a test wash comes before the run.",
            "water-based" or "all-over-belt" =>
                "Pigment in the cloth cannot peel; it pales a little with the shirt, and a test wash comes before the run.",
            "discharge" =>
                "Pigment in the cloth cannot peel; the first wash takes what is left of the agent with it, and a test wash comes before the run.",
            "plastisol-transfer" =>
                "A transfer holds as well as it was pressed; edges lift first, and a test wash comes before the run.",
            "vinyl" =>
                "A sheet holds as well as it was pressed; small pieces and corners lift first, and a test wash comes before the run.",
            "direct-to-garment" =>
                "Jetted pigment pales sooner than screen ink, white first, and holds as well as the pretreatment does: a test wash comes before the run.",
            "sublimation" or "cut-and-sew" =>
                "Dye is in the polyester: it neither peels nor cracks, and outlasts every film.",
            _ => null,
        };
}
