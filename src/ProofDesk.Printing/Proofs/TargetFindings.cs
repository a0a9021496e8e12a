using System.Collections.Immutable;
using System.Globalization;
using ProofDesk.Printing.Artworks;

namespace ProofDesk.Printing.Proofs;

/// <summary>Says of each ink with a target that it is expected to miss it on a ground, and what would help there.</summary>
internal static class TargetFindings
{
    public const string Code = "ink-misses-target";

    public static IEnumerable<Finding> Of(IEnumerable<InkList> lists) =>
        from list in lists
        from row in list.Rows
        where row.Target is { IsWithin: false }
        select Of(list.Ground.Id, row.Ink, row.Target!);

    private static Finding Of(string ground, string ink, TargetMatch match) =>
        new(
            Code,
            FindingWeight.Warning,
            string.Create(
                CultureInfo.InvariantCulture,
                $"a solid of {ink} on {ground} is expected {match.DeltaE:0.0} dE00 from its target, {match.Target.ToleranceDe00:0.##} passes"
            ),
            match.CanBeReached
                ? string.Create(
                    CultureInfo.InvariantCulture,
                    $"print it with {match.Best.Words}: {match.Best.DeltaE:0.0} dE00"
                )
                : string.Create(
                    CultureInfo.InvariantCulture,
                    $"this ink cannot reach it on this ground, {match.Best.DeltaE:0.0} dE00 at best with {match.Best.Words}; agree another colour for this ground, or mix another ink"
                ),
            match.DeltaE,
            match.Target.ToleranceDe00,
            "dE00"
        );
}
