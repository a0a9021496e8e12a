using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// The colours a set of screens can leave on one ground, by code: bit i of a code says that run i (in print order)
/// printed here. Nothing is kept between calls; a caller that asks for the same code often keeps a table.
/// </summary>
public sealed class ClothColour
{
    private readonly Ground _ground;
    private readonly PressSettings _press;
    private readonly Deposit _deposit;
    private readonly ThicknessSpread _onCloth;
    private readonly ThicknessSpread _onBase;

    public ClothColour(Ground ground, ImmutableArray<InkPass> runs, PressSettings press, Deposit deposit)
    {
        if (runs.Length > 64)
            throw new ArgumentException($"{runs.Length} screens run, codes hold 64 at most");
        (_ground, Runs, _press, _deposit) = (ground, runs, press, deposit);
        _onCloth = ThicknessSpread.Gamma(press.ThicknessCvFirstPass);
        _onBase = ThicknessSpread.Gamma(press.ThicknessCvOnBase);
    }

    /// <summary>The running screens, in print order.</summary>
    public ImmutableArray<InkPass> Runs { get; }

    /// <summary>The screens of a plan that run, in print order, with the mesh of their plates.</summary>
    public static ImmutableArray<InkPass> RunsOf(Separation separation, GroundPlan plan) =>
        [
            .. plan
                .Runs.Where(run => run.Runs)
                .Select(run => new InkPass(run.Ink, separation.Plates[run.Plate].Mesh, run.Strokes, run.FlashAfter)),
        ];

    public ImmutableArray<PrintedLayer> Layers(ulong code) =>
        DepositModel.Layers(Runs, code, _press, _deposit, _onCloth, _onBase);

    /// <summary>Total radiance factor at one point of the knit.</summary>
    public Spectrum Reflectance(ulong code, ClothPoint point) => InkOnCloth.Reflectance(_ground, Layers(code), point);

    /// <summary>Tristimulus values at one point of the knit under a light; white has Y = 100.</summary>
    public Xyz Xyz(ulong code, ClothPoint point, ViewingLight light) => Tristimulus.Of(Reflectance(code, point), light);

    /// <summary>Share of the area of this code where fibres stand through, 0..1.</summary>
    public double BareFibreShare(ulong code) => DepositModel.BareFibreShare(Layers(code), _press);

    /// <summary>What a big solid of this code measures.</summary>
    public Spectrum Solid(ulong code) => Presses.Solid.Colour(_ground, Layers(code), _press);

    /// <summary>Lab of a big solid of this code under a light.</summary>
    public Lab SolidLab(ulong code, ViewingLight light) => CieLab.FromXyz(Tristimulus.Of(Solid(code), light), light);
}
