using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Garments;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Separations;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// Passes of any kinds of ink, one after the other: layers of film and pigment (<see cref="InkOnCloth"/>) and, where the
/// press knows an action for the kind, what that does to the place. Nothing is kept between calls; a caller that asks
/// for the same code often keeps a table.
/// </summary>
public sealed class ClothColour : InkedCloth
{
    private readonly Ground _ground;
    private readonly Ground _black;
    private readonly PressSettings _press;
    private readonly Deposit _deposit;
    private readonly ThicknessSpread _onCloth;
    private readonly ThicknessSpread _onBase;
    private readonly ImmutableArray<InkAction?> _actions;
    private readonly bool _acts;

    public ClothColour(
        Ground ground,
        ImmutableArray<InkPass> runs,
        PressSettings press,
        Deposit deposit,
        Func<Ink, InkAction?>? actionOf = null
    )
        : base(runs)
    {
        (_ground, _black, _press, _deposit) = (ground, Black(ground, runs), press, deposit);
        _onCloth = ThicknessSpread.Gamma(press.ThicknessCvFirstPass);
        _onBase = ThicknessSpread.Gamma(press.ThicknessCvOnBase);
        _actions = [.. runs.Select(run => actionOf?.Invoke(run.Ink))];
        _acts = _actions.Any(a => a is not null);
    }

    /// <summary>The screens of a plan that run, in print order, with the mesh of their plates.</summary>
    public static ImmutableArray<InkPass> RunsOf(Separation separation, GroundPlan plan) =>
        [
            .. plan
                .Runs.Where(run => run.Runs)
                .Select(run => new InkPass(run.Ink, separation.Plates[run.Plate].Mesh, run.Strokes, run.FlashAfter)),
        ];

    /// <summary>One layer for each pass of the code, bottom up.</summary>
    public ImmutableArray<PrintedLayer> Layers(ulong code) =>
        DepositModel.Layers(Runs, code, _press, _deposit, _onCloth, _onBase);

    public override Spectrum Reflectance(ulong code, ClothPoint point) => On(_ground, code, point);

    public override Spectrum OverBlack(ulong code, ClothPoint point) => On(_black, code, point);

    public override (Spectrum Seen, Spectrum OverBlack) Both(ulong code, ClothPoint point) =>
        _acts ? base.Both(code, point) : InkOnCloth.Reflectance(_ground, _black, Layers(code), point);

    public override double BareFibreShare(ulong code)
    {
        for (var i = 0; _acts && i < Runs.Length; i++)
            if ((code >> i & 1) != 0 && _actions[i] is { CoversFibres: true })
                return 0;
        return DepositModel.BareFibreShare(Layers(code), _press);
    }

    public override double HeightUm(ulong code)
    {
        double um = 0;
        for (var i = 0; i < Runs.Length; i++)
            if ((code >> i & 1) != 0)
                um += Runs[i].Ink.SheetUm;
        return um;
    }

    public override Spectrum? Mirror(ulong code, ClothPoint point) =>
        _acts && code != 0 ? Stack(_ground, Layers(code), code, point).Mirror : null;

    private Spectrum On(Ground ground, ulong code, ClothPoint point)
    {
        var layers = Layers(code);
        return _acts
            ? Stack(ground, layers, code, point).Reflectance(point)
            : InkOnCloth.Reflectance(ground, layers, point);
    }

    private PrintedStack Stack(Ground ground, ImmutableArray<PrintedLayer> layers, ulong code, ClothPoint point)
    {
        var stack = PrintedStack.Bare(ground);
        for (int i = 0, printed = 0; i < Runs.Length; i++)
            if ((code >> i & 1) != 0)
            {
                var at = new InkPlace(Runs[i], layers[printed++], point, _press, _deposit);
                stack = _actions[i] is { } action ? action.Print(stack, at) : stack.With(at.Layer);
            }
        return stack;
    }

    /// <summary>A cloth that returns nothing: only the surface reflection the inks' own convention counts in.</summary>
    internal static Ground Black(Ground ground, ImmutableArray<InkPass> runs)
    {
        var surface = runs.Length == 0 ? 0 : runs[0].Ink.Convention.Ki;
        return ground with
        {
            Colour = ground.Colour with
            {
                Reflectance = Spectrum.Flat(surface),
                BrightenerPeak = 0,
                HeatherFleck = null,
                Dyes = [],
            },
        };
    }
}
