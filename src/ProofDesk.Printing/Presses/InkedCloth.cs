using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// The colours that a set of passes can leave on one ground, by code: bit i of a code says that pass i (in print order)
/// printed here.
/// </summary>
public abstract class InkedCloth(ImmutableArray<InkPass> runs)
{
    /// <summary>The running screens, in print order.</summary>
    public ImmutableArray<InkPass> Runs { get; } =
        runs.Length <= 64
            ? runs
            : throw new ArgumentException($"{runs.Length} screens run, codes hold 64 at most", nameof(runs));

    /// <summary>Total radiance factor at one point of the knit.</summary>
    public abstract Spectrum Reflectance(ulong code, ClothPoint point);

    /// <summary>The same inks on a cloth that returns nothing: what they send back by themselves.</summary>
    public abstract Spectrum OverBlack(ulong code, ClothPoint point);

    /// <summary><see cref="Reflectance"/> and <see cref="OverBlack"/> of one place, which share most of their work.</summary>
    public virtual (Spectrum Seen, Spectrum OverBlack) Both(ulong code, ClothPoint point) =>
        (Reflectance(code, point), OverBlack(code, point));

    /// <summary>Share of the area of this code where fibres stand through, 0..1; 1 for no ink.</summary>
    public abstract double BareFibreShare(ulong code);

    /// <summary>How far this code's surface stands above the cloth as an edge one can see and feel, um; 0 where ink only stains or coats it.</summary>
    public virtual double HeightUm(ulong code) => 0;

    /// <summary>
    /// What of this code mirrors its surroundings, as a reflectance; null = nothing. <see cref="Reflectance"/> holds the scattered
    /// light alone, as an instrument at 45/0 sees it.
    /// </summary>
    public virtual Spectrum? Mirror(ulong code, ClothPoint point) => null;

    /// <summary>Mean of what mirrors in a big solid; null = nothing.</summary>
    public Spectrum? MirrorOfSolid(ulong code)
    {
        Spectrum? sum = null;
        var bare = code == 0 ? 0 : BareFibreShare(code);
        for (var i = 0; i < ThicknessSpread.Classes; i++)
        {
            sum = Added(sum, Mirror(code, new(i, false)), (1 - bare) / ThicknessSpread.Classes);
            if (bare > 0)
                sum = Added(sum, Mirror(code, new(i, true)), bare / ThicknessSpread.Classes);
        }
        return sum;
    }

    private static Spectrum? Added(Spectrum? sum, Spectrum? part, double weight) =>
        part is null ? sum
        : sum is null ? part.Map(v => weight * v)
        : Spectrum.Combine(sum, part, (s, p) => s + weight * p);

    /// <summary>
    /// What a big solid of this code measures: the mean over the thickness classes and the fibres that stand through.
    /// Light adds, so reflectances are averaged, never Lab values.
    /// </summary>
    public Spectrum Solid(ulong code) =>
        code == 0
            ? Reflectance(0, new(0, false))
            : Presses.Solid.Mean(BareFibreShare(code), point => Reflectance(code, point));

    /// <summary>Tristimulus values at one point of the knit under a light; white has Y = 100.</summary>
    public Xyz Xyz(ulong code, ClothPoint point, ViewingLight light) => Tristimulus.Of(Reflectance(code, point), light);

    /// <summary>Lab of a big solid of this code under a light.</summary>
    public Lab SolidLab(ulong code, ViewingLight light) => CieLab.FromXyz(Tristimulus.Of(Solid(code), light), light);
}
