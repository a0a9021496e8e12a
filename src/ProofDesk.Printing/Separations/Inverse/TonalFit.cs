using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>How near the plates come to the art on a ground, by the forward model, weighted by area.</summary>
/// <param name="MeanInGamut">Mean CIEDE2000 from the wanted colours, over art that the print can reach.</param>
/// <param name="OutOfGamut">Share of the art that had to be moved to be printable, 0..1.</param>
/// <param name="MeanMove">Mean CIEDE2000 of that move.</param>
/// <param name="MostMove">The farthest move.</param>
/// <param name="MeanOverall">Mean CIEDE2000 from the wanted colours over all of the art, moved or not.</param>
/// <param name="MeanFromArt">Mean CIEDE2000 from the art itself as its lightness fits this print, over all of it: what was moved is missed by as much.</param>
internal sealed record TonalFit(
    double MeanInGamut,
    double NinetyFifthInGamut,
    double OutOfGamut,
    double MeanMove,
    double MostMove,
    double MeanOverall,
    double MeanFromArt
)
{
    /// <summary>A colour moved by less than this (CIEDE2000) counts as reached.</summary>
    public const double Moved = 2;

    public static TonalFit Of(SeparationTable table, int ground, ImmutableArray<ToneShare> art) =>
        Of(table, table.Grounds[ground], art);

    /// <summary>Of plates on a ground, whether they were solved on it or not.</summary>
    public static TonalFit Of(SeparationTable table, TonalGround ground, ImmutableArray<ToneShare> art)
    {
        var coverages = new float[table.Plates];
        return Of(
            ground,
            art,
            tone =>
            {
                table.Coverages(art[tone].Colour, coverages);
                return coverages;
            }
        );
    }

    /// <param name="coverages">Of each plate for a colour of the art, by its place in the list.</param>
    public static TonalFit Of(TonalGround ground, ImmutableArray<ToneShare> art, Func<int, float[]> coverages)
    {
        var work = new PlateModel.Work(ground.Model.Plates);
        var inside = new List<(double Difference, double Share)>();
        double outside = 0,
            move = 0,
            most = 0,
            all = 0,
            sum = 0,
            fromArt = 0;
        for (var i = 0; i < art.Length; i++)
        {
            var share = art[i].Share;
            var (wanted, ideal, moved) = Wanted(ground.Gamut, art[i].Colour);
            var printed = CieLab.FromXyz(ground.Model.Xyz(coverages(i), work), TonalGround.Light);
            var difference = Ciede2000.Difference(printed, wanted);
            fromArt += share * Ciede2000.Difference(printed, ideal);
            (all, sum, most) = (all + share, sum + share * difference, Math.Max(most, moved));
            if (moved > Moved)
                (outside, move) = (outside + share, move + share * moved);
            else
                inside.Add((difference, share));
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
            all > 0 ? outside / all : 0,
            outside > 0 ? move / outside : 0,
            most,
            all > 0 ? sum / all : 0,
            all > 0 ? fromArt / all : 0
        );
    }

    /// <summary>
    /// Where a colour of the art is wanted on a ground, where it would be if every colour could be printed, and how far
    /// (CIEDE2000) they are apart.
    /// </summary>
    public static (Lab Wanted, Lab Ideal, double Moved) Wanted(PrintGamut gamut, LinearRgb art)
    {
        var (wanted, ideal) = gamut.Map(art);
        var (lab, from) = (LabOf(wanted), LabOf(ideal));
        return (lab, from, Ciede2000.Difference(lab, from));
    }

    public static Lab LabOf(Oklab colour) =>
        CieLab.FromXyz(Srgb.ToXyz(colour.ToLinear(), TonalGround.Light), TonalGround.Light);
}
