using ProofDesk.Imaging.Colour;
using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Metals;

namespace ProofDesk.Printing.Presses;

/// <summary>Adhesive by screen, foil by heat press: a mirror wherever the adhesive printed.</summary>
public sealed class FoilPress : MethodPress
{
    /// <summary>Alpha of GGX of hot foil on knit: 0.1 to 0.2 (a proposal, [PHYSICS] 1.11).</summary>
    public const double Roughness = 0.15;

    public override double? MirrorRoughness => Roughness;

    /// <summary>The foil bridges the stitches.</summary>
    public override float ShadeOfInk => 0.03f;

    public override double FilmAboveClothUm(InkPass pass, PressSettings press) =>
        DepositModel.FilmUm(pass.Mesh, pass.Ink, press, pass.Strokes, false, Deposit.Expected)
        * (1 - press.WickedShare);
}

/// <summary>
/// Foil on a place: opaque, hides everything below. With thin adhesive it misses a twentieth of the area, where stitches lie deepest
/// (a proposal).
/// </summary>
internal sealed class FoilAction : InkAction
{
    private const double MissedWithThinAdhesive = 0.05;

    public static FoilAction Instance { get; } = new();

    public override bool CoversFibres => true;

    public override PrintedStack Print(PrintedStack below, InkPlace at)
    {
        var finish = MetallicAction.Finish(at.Pass.Ink);
        var foil = MetalSurface.LacqueredFoil(finish.Metal, finish.Tint);
        var held = at.Deposit == Deposit.Light ? 1 - MissedWithThinAdhesive : 1;
        var diffuse =
            held == 1
                ? foil.Diffuse
                : Spectrum.Combine(foil.Diffuse, below.Reflectance(at.Point), (f, b) => held * f + (1 - held) * b);
        return below.Hidden(diffuse) with { Mirror = foil.Specular.Map(f => held * foil.MirrorShare * f) };
    }
}
