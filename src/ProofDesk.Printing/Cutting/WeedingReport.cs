using System.Globalization;
using System.Text;
using ProofDesk.Printing.Proofs;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Cutting;

/// <summary>What the weeder has before him, counted on the cut paths: one line a colour.</summary>
internal static class WeedingReport
{
    public static string Csv(Proof proof, IReadOnlyList<CutLayer> layers)
    {
        var csv = new StringBuilder(
            "layer,sheet,pieces,holes,islands,pieces under 2 mm,smallest piece mm,smallest hole mm,cut m,sheet left on garment cm2,sheet used cm2,carriers\r\n"
        );
        for (var i = 0; i < layers.Count; i++)
        {
            var pieces = layers[i].Pieces.ToArray();
            var holes = pieces.SelectMany(p => p.Holes).Select(h => Longest(h.Box)).ToArray();
            var sizes = pieces.Select(p => Longest(p.Box)).ToArray();
            csv.Append(
                CultureInfo.InvariantCulture,
                $"{i + 1},{Field(proof.Films.Plates[i].Plate.Ink.Name)},{pieces.Length},{holes.Length},{pieces.Count(p => p.LiesInHole)},{sizes.Count(s => s < VinylChecks.LeastPieceMm)},{Least(sizes)},{Least(holes)},{pieces.Sum(p => p.CutMm) / 1000:0.00},{pieces.Sum(p => p.AreaMm2) / 100:0.00},{layers[i].Groups.Sum(Used) / 100:0.0},{layers[i].Groups.Length}\r\n"
            );
        }
        return csv.ToString();
    }

    private static double Longest(Box box) => Math.Max(box.Width, box.Height);

    private static double Used(CutGroup group) =>
        (group.Box.Width + CutLayer.GroupGapMm) * (group.Box.Height + CutLayer.GroupGapMm);

    private static string Least(double[] sizes) =>
        sizes.Length == 0 ? "" : sizes.Min().ToString("0.00", CultureInfo.InvariantCulture);

    private static string Field(string text) =>
        text.AsSpan().IndexOfAny(",\"\r\n") < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
