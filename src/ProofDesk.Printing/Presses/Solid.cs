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
        var bare = DepositModel.BareFibreShare(layers, press);
        var sum = Spectrum.Flat(0);
        for (var i = 0; i < ThicknessSpread.Classes; i++)
        {
            var fibre = InkOnCloth.Reflectance(ground, layers, new(i, true));
            var covered = InkOnCloth.Reflectance(ground, layers, new(i, false));
            var point = Spectrum.Combine(fibre, covered, (f, c) => bare * f + (1 - bare) * c);
            sum = Spectrum.Combine(sum, point, (total, r) => total + r / ThicknessSpread.Classes);
        }
        return sum;
    }
}
