using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Metals;

/// <summary>
/// A metallic print: a mirror of small facets and what scatters between and below them. It has no single Lab; the ink list
/// states a diffuse value (as an instrument at 45/0 sees it) and a specular one (as it mirrors).
/// </summary>
/// <param name="Specular">Reflectance of the mirrored light, straight on.</param>
/// <param name="MirrorShare">Share of the area that mirrors, 0..1.</param>
/// <param name="Diffuse">Reflectance of the scattered light over the whole area.</param>
/// <param name="Roughness">Alpha of the GGX distribution of facets: 0.1 to 0.2 hot foil, 0.3 to 0.5 metallic ink (a proposal).</param>
public sealed record MetalSurface(Spectrum Specular, double MirrorShare, Spectrum Diffuse, double Roughness)
{
    /// <summary>Foil: opaque, hides everything under it; what it scatters is a few hundredths of what it mirrors (a proposal).</summary>
    public static MetalSurface Foil(Metal metal) => Foil(metal.Reflectance(1.5));

    /// <summary>
    /// The usual gold foil: aluminium under a transparent lacquer, passed twice: F0 t^2 ([PHYSICS] 1.11).
    /// </summary>
    /// <param name="lacquer">Transmittance of the lacquer, one way, 0..1.</param>
    public static MetalSurface LacqueredFoil(Metal metal, Spectrum lacquer) =>
        Foil(Spectrum.Combine(metal.Reflectance(), lacquer, (r, t) => r * t * t));

    /// <summary>
    /// Metallic ink: flakes cover a share of the area, binder over the ground shows between them. Flakes lie at random
    /// angles, so part of what they reflect is scattered: 0.4 of it (a proposal, which gives the diffuse 0.25 to 0.45 of silver
    /// inks).
    /// </summary>
    /// <param name="flakeShare">Share of the area covered by flakes, 0.5 to 0.8 in practice.</param>
    /// <param name="ground">Reflectance of what lies under the ink.</param>
    /// <param name="binder">Transmittance of the (tinted) binder, one way; all 1 for a clear one.</param>
    public static MetalSurface Ink(
        Metal metal,
        double flakeShare,
        Spectrum ground,
        Spectrum binder,
        double roughness = 0.4
    )
    {
        if (flakeShare is not (>= 0 and <= 1))
            throw new ArgumentOutOfRangeException(
                nameof(flakeShare),
                flakeShare,
                $"flakes cover {flakeShare} of the area, a number from 0 to 1 is needed"
            );
        var flakes = Spectrum.Combine(metal.Reflectance(1.5), binder, (r, t) => r * t * t);
        var below = Spectrum.Combine(ground, binder, (r, t) => r * t * t);
        return new(
            flakes,
            flakeShare * (1 - FlakesScatter),
            Spectrum.Combine(flakes, below, (f, g) => flakeShare * FlakesScatter * f + (1 - flakeShare) * g),
            roughness
        );
    }

    /// <summary>Share of the light on flakes that leaves in all directions.</summary>
    public const double FlakesScatter = 0.4;

    private static MetalSurface Foil(Spectrum specular) => new(specular, 0.96, specular.Map(r => 0.04 * r), 0.15);
}
