using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Presses;

/// <summary>What an instrument reads on a big solid: the mean over the thickness classes and the fibres that stand through.</summary>
public static class Solid
{
    /// <summary>All the given screens printed as solids on each other.</summary>
    public static Spectrum Colour(Ground ground, IReadOnlyList<InkPass> runs, PressSettings press, Deposit deposit)
    {
        var everyRun = runs.Count == 0 ? 0UL : ulong.MaxValue >> (64 - runs.Count);
        return Colour(ground, DepositModel.Layers(runs, everyRun, press, deposit), press);
    }

    /// <summary>Light adds, so reflectances are averaged, never Lab values.</summary>
    public static Spectrum Colour(Ground ground, IReadOnlyList<PrintedLayer> layers, PressSettings press)
    {
        if (layers.Count == 0)
            return Brightener.Radiance(ground.Colour);
        return Mean(DepositModel.BareFibreShare(layers, press), point => InkOnCloth.Reflectance(ground, layers, point));
    }

    /// <summary>The mean over the knit's points, of which a share is bare fibre.</summary>
    internal static Spectrum Mean(double bareShare, Func<ClothPoint, Spectrum> at)
    {
        var sum = Spectrum.Flat(0);
        for (var i = 0; i < ThicknessSpread.Classes; i++)
        {
            var covered = at(new(i, false));
            var fibre = bareShare > 0 ? at(new(i, true)) : covered;
            var point = Spectrum.Combine(fibre, covered, (f, c) => bareShare * f + (1 - bareShare) * c);
            sum = Spectrum.Combine(sum, point, (total, r) => total + r / ThicknessSpread.Classes);
        }
        return sum;
    }
}
