using ProofDesk.Imaging.Colour;

namespace ProofDesk.Printing.Metals;

/// <summary>
/// The light a metallic print is drawn in, because a mirror shows its surroundings: one square softbox and a dim, even
/// surround. A perfect diffuser in it has radiance 1, so that metals and cloth share one scale. The proof states it.
/// </summary>
/// <param name="tiltDegrees">Angle of the softbox from the cloth's normal, towards the top of the picture.</param>
/// <param name="halfWidthDegrees">Half of the softbox's angular width.</param>
/// <param name="surround">Radiance of everything else.</param>
public sealed class StudioLight(double tiltDegrees, double halfWidthDegrees, double surround)
{
    private readonly double _cosTilt = Math.Cos(Radians(tiltDegrees));
    private readonly double _sinTilt = Math.Sin(Radians(tiltDegrees));
    private readonly double _edge = Math.Tan(Radians(halfWidthDegrees));

    /// <summary>Angle of the softbox from the cloth's normal, towards the top of the picture.</summary>
    public double TiltDegrees => tiltDegrees;

    /// <summary>Half of the softbox's angular width.</summary>
    public double HalfWidthDegrees => halfWidthDegrees;

    /// <summary>Radiance of everything but the softbox.</summary>
    public double Surround => surround;

    /// <summary>Softbox at 30 degrees, 40 degrees wide, surround 0.12.</summary>
    public static StudioLight Default { get; } = new(30, 20, 0.12);

    /// <summary>What proofs say about it.</summary>
    public string Text =>
        FormattableString.Invariant(
            $"metal is drawn under one softbox {TiltDegrees:0} degrees above the viewer, {2 * HalfWidthDegrees:0} degrees wide, in a dim room; elsewhere it will look darker or brighter"
        );

    /// <summary>Radiance of the softbox: what the surround lacks to light a perfect diffuser to 1.</summary>
    public double Softbox { get; } =
        (1 - surround) / SolidAngleCosine(tiltDegrees, halfWidthDegrees) * Math.PI + surround;

    /// <summary>
    /// Radiance of the surroundings that a facetted mirror shows whose normal leans by <paramref name="tiltDegrees"/> towards the
    /// softbox, seen straight on. The lobe is the GGX distribution of facets of [WALTER-2007] equation 33, each facet mirroring one
    /// direction; masking is left out (it matters at grazing angles only).
    /// </summary>
    public double Mirrored(double tiltDegrees, double roughness) => Mirrored(0, tiltDegrees, roughness);

    /// <summary>The same for a mirror that leans to the right too.</summary>
    /// <param name="facets">Rings, and spokes, of the grid of facets.</param>
    public double Mirrored(double rightDegrees, double upDegrees, double roughness, int facets = 64)
    {
        // Slopes of GGX facets: tan^2 = alpha^2 u/(1 - u) for even u, any azimuth; a regular grid of both, so that the same question has the same answer.
        var (sinUp, cosUp) = Math.SinCos(Radians(upDegrees));
        var (sinRight, cosRight) = Math.SinCos(Radians(rightDegrees));
        double sum = 0;
        for (var i = 0; i < facets; i++)
        {
            var u = (i + 0.5) / facets;
            var (sinFacet, cosFacet) = Math.SinCos(Math.Atan(roughness * Math.Sqrt(u / (1 - u))));
            for (var j = 0; j < facets; j++)
            {
                var (sin, cos) = Math.SinCos(2 * Math.PI * (j + 0.5) / facets);
                // The facet's normal in the surface's frame, leaned towards the softbox (y), then to the right (x).
                var (x, y, z) = (sinFacet * cos, sinFacet * sin, cosFacet);
                (y, z) = (y * cosUp + z * sinUp, z * cosUp - y * sinUp);
                (x, z) = (x * cosRight + z * sinRight, z * cosRight - x * sinRight);
                // The viewer is straight above: the mirrored direction is 2 (n.v) n - v.
                sum += Radiance(2 * z * x, 2 * z * y, 2 * z * z - 1);
            }
        }
        return sum / (facets * facets);
    }

    /// <summary>What is seen of a metallic print: mirrored surroundings and scattered light, a radiance factor.</summary>
    public Spectrum Seen(MetalSurface metal, double tiltDegrees)
    {
        var mirrored = metal.MirrorShare * Mirrored(tiltDegrees, metal.Roughness);
        return Spectrum.Combine(metal.Specular, metal.Diffuse, (f, d) => mirrored * f + d);
    }

    private double Radiance(double x, double y, double z)
    {
        if (z <= 0)
            return 0;
        var (acrossY, along) = (y * _cosTilt - z * _sinTilt, y * _sinTilt + z * _cosTilt);
        return along > 0 && Math.Abs(x) <= _edge * along && Math.Abs(acrossY) <= _edge * along ? Softbox : Surround;
    }

    // Integral of the cosine to the cloth's normal over the softbox, on a grid of its face.
    private static double SolidAngleCosine(double tiltDegrees, double halfWidthDegrees)
    {
        var tilt = Radians(tiltDegrees);
        var edge = Math.Tan(Radians(halfWidthDegrees));
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
