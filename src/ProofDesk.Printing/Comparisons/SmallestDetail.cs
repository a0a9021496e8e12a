using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Comparisons;

/// <summary>The narrowest line of the art that is sure to be on the cloth.</summary>
/// <param name="Mm">Its width.</param>
/// <param name="Why">What sets it, for people.</param>
public sealed record SmallestDetail(double Mm, string Why)
{
    /// <summary>A line of ink through a screen, whatever the mesh holds: .25 to .35 mm ([PHYSICS] 3.3).</summary>
    public const double LeastLineMm = 0.25;

    /// <summary>What of a base is never shaved off (common practice).</summary>
    public const double LeastBaseMm = 0.25;

    /// <summary>Adhesive narrower than this pulls off with the foil: .5 to .7 mm ([PHYSICS] 3.3).</summary>
    public const double FoilMm = 0.6;

    /// <summary>Drops on the cloth, and where white lies under them ([PHYSICS] 3.3).</summary>
    public const double JetMm = 0.2;
    public const double JetOnWhiteMm = 0.4;

    /// <summary>Dye moves sideways as a gas ([PHYSICS] 3.3).</summary>
    public const double DyeMm = 0.1;

    /// <summary>The largest limit of everything that prints on this ground; null when nothing does.</summary>
    public static SmallestDetail? Of(Proof proof, GroundProof ground) => Limits(proof, ground).MaxBy(limit => limit.Mm);

    private static IEnumerable<SmallestDetail> Limits(Proof proof, GroundProof ground)
    {
        var plates = proof.Separation.Plates;
        var runs = ground.Plan.Runs.Where(run => run.Runs).ToArray();
        var hasBase = runs.Any(run => plates[run.Plate].Purpose.IsUnderColours);
        foreach (var run in runs)
        {
            var plate = plates[run.Plate];
            if (plate.Mesh.IsNone)
            {
                if (OfKind(run.Ink.Kind, hasBase) is { } limit)
                    yield return limit;
                continue;
            }
            if (run.Ink.Kind == InkKind.Foil)
                yield return new(FoilMm, "narrower adhesive does not hold the foil");
            if (plate.Purpose.IsUnderColours)
                continue;
            var held = plate.Mesh.SafeFeatureUm / 1000;
            yield return held > LeastLineMm
                ? new(held, $"what the {plate.Mesh.Label} mesh holds")
                : new(LeastLineMm, "what a stencil holds");
        }
        if (hasBase && runs.Any(run => !plates[run.Plate].Mesh.IsNone))
        {
            var choke = proof.Request.Spot.ChokeMm;
            yield return new(
                2 * choke + LeastBaseMm,
                FormattableString.Invariant($"a base that stays {choke:0.00} mm inside the colour on either side")
            );
        }
        foreach (var row in ground.InkList.Rows.Where(row => row.LinesPerInch is > 0))
            yield return new(
                25.4 / row.LinesPerInch!.Value,
                FormattableString.Invariant($"one line of dots at {row.LinesPerInch:0} lpi, where the art is toned")
            );
    }

    private static SmallestDetail? OfKind(InkKind kind, bool hasWhite) =>
        kind switch
        {
            InkKind.Sheet => new(VinylChecks.LeastStrokeMm, "what can be weeded and holds on a garment"),
            InkKind.Dye => new(DyeMm, "how far dye wanders while it is pressed"),
            InkKind.Jet when hasWhite => new(JetOnWhiteMm, "white and colours meet within a tenth of a millimetre"),
            InkKind.Jet => new(JetMm, "how far drops bleed into the cloth"),
            _ => null,
        };
}
