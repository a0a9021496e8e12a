using ProofDesk.Printing.Inks;
using ProofDesk.Printing.Metals;

namespace ProofDesk.Printing.Presses;

/// <summary>Screens with metallic ink: pictures show the studio in the flakes, blurred by how they lie.</summary>
public sealed class MetallicPress : MethodPress
{
    /// <summary>Alpha of GGX of flakes in a film: 0.3 to 0.5 (a proposal, [PHYSICS] 1.11).</summary>
    public const double Roughness = 0.4;

    public override double? MirrorRoughness => Roughness;
}

/// <summary>
/// Metallic ink on a place: flakes cover a share of the area that grows with the film, binder over what is below shows between
/// them. Flakes settle over each other at random, so a film X covers 1 - exp(-X / X0) (a proposal).
/// </summary>
internal sealed class MetallicAction : InkAction
{
    /// <summary>Film at which flakes cover 0.63 of the area, um: the usual 43-80 mesh (39 um) then covers two thirds, [PHYSICS] 1.11 says 0.5 to 0.8.</summary>
    private const double CoverUm = 36;

    public static MetallicAction Instance { get; } = new();

    public override PrintedStack Print(PrintedStack below, InkPlace at)
    {
        var finish = Finish(at.Pass.Ink);
        var um = at.Layer.FilmUm * at.Layer.Spread.Multipliers[at.Point.ThicknessClass];
        if (at.Point.BareFibre)
            um *= at.Layer.StainShare;
        var flakes = 1 - Math.Exp(-um / CoverUm);
        var surface = MetalSurface.Ink(
            finish.Metal,
            flakes,
            below.Reflectance(at.Point),
            finish.Tint,
            MetallicPress.Roughness
        );
        return below.Hidden(surface.Diffuse) with { Mirror = surface.Specular.Map(f => f * surface.MirrorShare) };
    }

    internal static MetalFinish Finish(Ink ink) =>
        ink.Finish
        ?? throw new ArgumentException(
            $"ink \"{ink.Name}\" is {ink.Kind.ToString().ToLowerInvariant()} and names no metal; give it one"
        );
}
