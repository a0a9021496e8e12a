using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Metals;

/// <summary>
/// The light a metallic print is drawn in, because a mirror shows its surroundings: one square softbox and a dim, even
/// surround. A perfect diffuser in it has radiance 1, so that metals and cloth share one scale. The proof states it.
/// </summary>
/// <param name="TiltDegrees">Angle of the softbox from the cloth's normal, towards the top of the picture.</param>
/// <param name="HalfWidthDegrees">Half of the softbox's angular width.</param>
/// <param name="Surround">Radiance of everything else.</param>
public sealed record StudioLight(double TiltDegrees, double HalfWidthDegrees, double Surround)
{
    /// <summary>Softbox at 30 degrees, 40 degrees wide, surround 0.12.</summary>
    public static StudioLight Default { get; } = new(30, 20, 0.12);

    /// <summary>What proofs say about it.</summary>
    public string Text =>
        FormattableString.Invariant(
            $"metal is drawn under one softbox {TiltDegrees:0} degrees above the viewer, {2 * HalfWidthDegrees:0} degrees wide, in a dim room; elsewhere it will look darker or brighter"
        );

    /// <summary>Radiance of the softbox: what the surround lacks to light a perfect diffuser to 1.</summary>
    public double Softbox => (1 - Surround) / SolidAngleCosine() * Math.PI + Surround;

    /// <summary>
    /// Radiance of the surroundings that a facetted mirror shows whose normal leans by <paramref name="tiltDegrees"/> towards the
    /// softbox, seen straight on. The lobe is the GGX distribution of facets of [WALTER-2007] equation 33, each facet mirroring one
    /// direction; masking is left out (it matters at grazing angles only).
    /// </summary>
    public double Mirrored(double tiltDegrees, double roughness)
    {
        // Slopes of GGX facets: tan^2 = alpha^2 u/(1 - u) for even u, any azimuth; a regular grid of both, so that the same question has the same answer.
        double sum = 0;
        for (var i = 0; i < Rings; i++)
        {
            var u = (i + 0.5) / Rings;
            var facet = Math.Atan(roughness * Math.Sqrt(u / (1 - u)));
            for (var j = 0; j < Spokes; j++)
            {
                var azimuth = 2 * Math.PI * (j + 0.5) / Spokes;
                // The facet's normal in the surface's frame, leaned towards the softbox (y).
                var (x, y, z) = (
                    Math.Sin(facet) * Math.Cos(azimuth),
                    Math.Sin(facet) * Math.Sin(azimuth),
                    Math.Cos(facet)
                );
                var lean = Radians(tiltDegrees);
                (y, z) = (y * Math.Cos(lean) + z * Math.Sin(lean), z * Math.Cos(lean) - y * Math.Sin(lean));
                // The viewer is straight above: the mirrored direction is 2 (n.v) n - v.
                sum += Radiance(2 * z * x, 2 * z * y, 2 * z * z - 1);
            }
        }
        return sum / (Rings * Spokes);
    }

    /// <summary>What is seen of a metallic print: mirrored surroundings and scattered light, a radiance factor.</summary>
    public Spectrum Seen(MetalSurface metal, double tiltDegrees)
    {
        var mirrored = metal.MirrorShare * Mirrored(tiltDegrees, metal.Roughness);
        return Spectrum.Combine(metal.Specular, metal.Diffuse, (f, d) => mirrored * f + d);
    }

    private const int Rings = 64;
    private const int Spokes = 64;

    private double Radiance(double x, double y, double z)
    {
        if (z <= 0)
            return 0;
        var tilt = Radians(TiltDegrees);
        var (acrossY, along) = (y * Math.Cos(tilt) - z * Math.Sin(tilt), y * Math.Sin(tilt) + z * Math.Cos(tilt));
        var edge = Math.Tan(Radians(HalfWidthDegrees));
        return along > 0 && Math.Abs(x) <= edge * along && Math.Abs(acrossY) <= edge * along ? Softbox : Surround;
    }

    // Integral of the cosine to the cloth's normal over the softbox, on a grid of its face.
    private double SolidAngleCosine()
    {
        var tilt = Radians(TiltDegrees);
        var edge = Math.Tan(Radians(HalfWidthDegrees));
        const int n = 64;
        var step = 2 * edge / n;
        var sum = 0.0;
        for (var i = 0; i < n; i++)
        for (var j = 0; j < n; j++)
        {
            var (a, b) = (-edge + (i + 0.5) * step, -edge + (j + 0.5) * step);
            var length = Math.Sqrt(1 + a * a + b * b);
            // A patch of the plane at distance 1: solid angle area / length^3; its direction's z after the tilt.
            sum +=
                step * step / (length * length * length) * Math.Max(0, (Math.Cos(tilt) - b * Math.Sin(tilt)) / length);
        }
        return sum;
    }

    private static double Radians(double degrees) => degrees * Math.PI / 180;
}
