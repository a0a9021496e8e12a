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
        var bare = DepositModel.BareFibreShare(layers, press);
        var sum = InkOnCloth.Reflectance(ground, layers, ClothPoint.Fibre).Map(r => bare * r);
        if (layers.Count == 0)
            return sum;
        for (var i = 0; i < ThicknessSpread.Classes; i++)
            sum = Spectrum.Combine(
                sum,
                InkOnCloth.Reflectance(ground, layers, new(i, false)),
                (total, r) => total + (1 - bare) / ThicknessSpread.Classes * r
            );
        return sum;
    }
}
