using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>How near the plates come to the art on a ground, by the forward model, weighted by area.</summary>
/// <param name="MeanInGamut">Mean CIEDE2000 from the wanted colours, over art that the print can reach.</param>
/// <param name="OutOfGamut">Share of the art that had to be moved to be printable, 0..1.</param>
/// <param name="MeanMove">Mean CIEDE2000 of that move.</param>
internal sealed record TonalFit(double MeanInGamut, double NinetyFifthInGamut, double OutOfGamut, double MeanMove)
{
    /// <summary>A colour moved by less than this counts as reached.</summary>
    private const double Moved = 2;

    public static TonalFit Of(SeparationTable table, int ground, ImmutableArray<ToneShare> art) =>
        Of(table, table.Grounds[ground], art);

    /// <summary>Also on a ground that the plates were not solved on.</summary>
    public static TonalFit Of(SeparationTable table, TonalGround ground, ImmutableArray<ToneShare> art)
    {
        var (model, gamut) = (ground.Model, ground.Gamut);
        var work = new PlateModel.Work(table.Plates);
        var coverages = new float[table.Plates];
        var inside = new List<(double Difference, double Share)>();
        double outside = 0,
            move = 0;
        foreach (var tone in art)
        {
            var (wanted, ideal) = gamut.Map(tone.Colour);
            table.Coverages(tone.Colour, coverages);
            var printed = CieLab.FromXyz(model.Xyz(coverages, work), TonalGround.Light);
            var moved = Ciede2000.Difference(LabOf(wanted), LabOf(ideal));
            if (moved > Moved)
                (outside, move) = (outside + tone.Share, move + tone.Share * moved);
            else
                inside.Add((Ciede2000.Difference(printed, LabOf(wanted)), tone.Share));
        }
        inside.Sort();
        var weight = inside.Sum(i => i.Share);
        var (p95, below) = (0.0, 0.0);
        foreach (var (difference, share) in inside)
        {
            p95 = difference;
            if ((below += share) >= 0.95 * weight)
                break;
        }
        return new(
            weight > 0 ? inside.Sum(i => i.Difference * i.Share) / weight : 0,
            p95,
            outside,
            outside > 0 ? move / outside : 0
        );
    }

    public static Lab LabOf(Oklab colour) =>
        CieLab.FromXyz(Srgb.ToXyz(colour.ToLinear(), TonalGround.Light), TonalGround.Light);
}
