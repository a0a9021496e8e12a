using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Plastisol printed on a smooth carrier, gelled after each screen, and pressed onto the cloth in one: nothing wicks, no
/// fibre stands through, the film is even, and what was printed last lies lowest.
/// </summary>
public sealed class TransferPress : MethodPress
{
    private readonly bool _upright;

    private TransferPress(bool upright) => _upright = upright;

    /// <summary>Screens in the order they run on the carrier.</summary>
    public static TransferPress OnCarrier { get; } = new(false);

    /// <summary>The same film described from the cloth up, as the separator thinks of it.</summary>
    internal static TransferPress FromTheCloth { get; } = new(true);

    public override bool LastLiesLowest => !_upright;

    /// <summary>Growth on a carrier that does not drink, as on a sealed base; ThicknessCv of [PHYSICS] 1.5 (a proposal).</summary>
    public override PressSettings Settings(PressSettings shop) =>
        shop with
        {
            GrowthUm = shop.GrowthOnBaseUm,
            WickedShare = 0,
            BareFibreFirstPass = 0,
            BareFibreOnBase = 0,
            ThicknessCvFirstPass = 0.1,
            ThicknessCvOnBase = 0.1,
            // Each screen is gelled before the next; the carrier under it stays as smooth as it was.
            WetTrap = 1,
        };

    public override InkedCloth On(
        Ground ground,
        ImmutableArray<InkPass> passes,
        PressSettings press,
        Deposit deposit
    ) => new TransferCloth(ground, passes, press, deposit, _upright);

    /// <summary>The film was smooth before it met the cloth.</summary>
    public override float ShadeOfInk => 0.02f;
}

/// <summary>A transfer on a cloth: even films, nothing in the cloth, the last screen next to it.</summary>
internal sealed class TransferCloth(
    Ground ground,
    ImmutableArray<InkPass> passes,
    PressSettings press,
    Deposit deposit,
    bool upright
) : InkedCloth(passes)
{
    private readonly Ground _black = ClothColour.Black(ground, passes);
    private readonly ThicknessSpread _spread = ThicknessSpread.Gamma(press.ThicknessCvFirstPass);

    /// <summary>Bottom up.</summary>
    public ImmutableArray<PrintedLayer> Layers(ulong code)
    {
        var layers = DepositModel.Layers(Runs, code, press, deposit, _spread, _spread);
        return upright ? layers : [.. layers.Reverse()];
    }

    public override Spectrum Reflectance(ulong code, ClothPoint point) => On(ground, code, point);

    public override Spectrum OverBlack(ulong code, ClothPoint point) => On(_black, code, point);

    public override double BareFibreShare(ulong code) => code == 0 ? 1 : 0;

    public override double HeightUm(ulong code) => Layers(code).Sum(layer => layer.FilmUm);

    private Spectrum On(Ground cloth, ulong code, ClothPoint point) =>
        InkOnCloth.Reflectance(cloth, Layers(code), point with { BareFibre = false });
}
