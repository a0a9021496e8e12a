using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// How far the print is expected to lie from the proof, from how well inks and cloth are known ([PHYSICS] 1.23, a proposal: a film
/// 20 % off at 20 um of white moves L* by 1.8). The worse of the two decides.
/// </summary>
/// <param name="FromDeltaE">Lower end of the expected difference, CIEDE2000.</param>
/// <param name="ToDeltaE">Upper end.</param>
public sealed record ProofConfidence(DataClass Inks, DataClass Cloth, double FromDeltaE, double ToDeltaE)
{
    public static ProofConfidence Of(DataClass inks, DataClass cloth) =>
        Worse(inks, cloth) switch
        {
            DataClass.A => new(inks, cloth, 2, 3),
            DataClass.B => new(inks, cloth, 4, 6),
            _ => new(inks, cloth, 6, 12),
        };

    /// <summary>The worst ink that runs on the ground, and its cloth.</summary>
    public static ProofConfidence Of(GroundPlan plan) =>
        Of(
            plan.Runs.Where(r => r.Runs).Select(r => r.Ink.DataClass).DefaultIfEmpty(DataClass.A).Max(),
            plan.Ground.Colour.DataClass
        );

    /// <summary>The whole proof: its least sure ground.</summary>
    public static ProofConfidence Of(Proof proof) =>
        proof.Grounds.Select(g => Of(g.Plan)).MaxBy(c => (c.ToDeltaE, c.Inks, c.Cloth))!;

    /// <summary>In words, lower case, no final period.</summary>
    public string Text =>
        FormattableString.Invariant(
            $"the print is expected within {FromDeltaE:0} to {ToDeltaE:0} dE00 of this proof: inks {Words(Inks)}, cloth {Words(Cloth)}"
        );

    private static string Words(DataClass known) =>
        known switch
        {
            DataClass.A => "measured (A)",
            DataClass.B => "from one measurement (B)",
            DataClass.Photographed => "as photographed, not measured",
            _ => "by default of the trade (C)",
        };

    private static DataClass Worse(DataClass a, DataClass b) => a > b ? a : b;
}
