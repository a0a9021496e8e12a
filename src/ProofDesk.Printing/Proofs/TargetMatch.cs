using System.Globalization;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Proofs;

/// <summary>One way to print a solid and how near to the target it comes.</summary>
/// <param name="Passes">Passes of the ink with a flash between.</param>
/// <param name="BasePasses">Passes of white under it; 0 for none.</param>
public sealed record TargetReach(double DeltaE, Deposit Deposit, int Passes, int BasePasses)
{
    /// <summary>"2 passes, heavy deposit, on a white base".</summary>
    public string Words =>
        $"{Passes} {(Passes == 1 ? "pass" : "passes")}, {Deposit.ToString().ToLowerInvariant()} deposit, "
        + BasePasses switch
        {
            0 => "no base",
            1 => "on a white base",
            _ => "on a white base printed twice",
        };
}

/// <summary>
/// What the proof says about an ink's agreed colour on one ground: how far a solid is expected to be from it, and whether this
/// ink can get there at all.
/// </summary>
/// <param name="Predicted">Lab of the expected solid, under the target's light.</param>
/// <param name="Best">The nearest of all ways tried.</param>
/// <param name="WithoutBase">The nearest without white under it.</param>
public sealed record TargetMatch(
    InkTarget Target,
    Lab Predicted,
    double DeltaE,
    TargetReach Best,
    TargetReach WithoutBase
)
{
    /// <summary>As it is planned.</summary>
    public bool IsWithin => DeltaE <= Target.ToleranceDe00;

    /// <summary>Planned so or otherwise.</summary>
    public bool CanBeReached => IsWithin || Best.DeltaE <= Target.ToleranceDe00;

    /// <summary>One sentence for page and list.</summary>
    public string Verdict =>
        string.Create(CultureInfo.InvariantCulture, $"dE00 {DeltaE:0.0} to target, ")
        + (
            IsWithin
                ? string.Create(CultureInfo.InvariantCulture, $"within {Target.ToleranceDe00:0.##}")
                : string.Create(
                    CultureInfo.InvariantCulture,
                    $"not within {Target.ToleranceDe00:0.##}; {(CanBeReached ? "can be reached on this ground" : "cannot be reached on this ground")}: {Best.DeltaE:0.0} with {Best.Words}"
                )
        );
}
