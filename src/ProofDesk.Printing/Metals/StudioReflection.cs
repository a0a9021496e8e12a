namespace ProofDesk.Printing.Metals;

/// <summary>
/// What a picture shows of the studio in a mirror that leans, seen straight on: the mirrored radiance of <see cref="StudioLight.Mirrored(double, double, double)"/>
/// through the photographic tone curve L (1 + L / Lw^2) / (1 + L), Lw the softbox ([REINHARD-2002] equation 4, from memory): a picture has
/// nothing brighter than white, a mirrored softbox has. Where the softbox fills the lobe it is 1, so that metal there has its own colour.
/// A table with straight lines between its points: roughness blurs everything finer.
/// </summary>
public sealed class StudioReflection
{
    private const double StepDegrees = 3;
    private const int Half = 18;
    private const int Across = 2 * Half + 1;
    private const int Facets = 24;

    private readonly double[] _shown = new double[Across * Across];

    public StudioReflection(StudioLight light, double roughness)
    {
        var softbox = light.Softbox;
        for (var j = 0; j < Across; j++)
        for (var i = 0; i <= Half; i++)
        {
            var radiance = light.Mirrored((i - Half) * StepDegrees, (j - Half) * StepDegrees, roughness, Facets);
            // The softbox stands in the middle, so left and right are the same.
            _shown[j * Across + i] = _shown[j * Across + Across - 1 - i] = Tone(radiance, softbox);
        }
    }

    /// <summary>0..1; leaning to the right and up, degrees.</summary>
    public double Shown(double rightDegrees, double upDegrees)
    {
        var x = Math.Clamp(rightDegrees / StepDegrees + Half, 0, Across - 1.001);
        var y = Math.Clamp(upDegrees / StepDegrees + Half, 0, Across - 1.001);
        var (ix, iy) = ((int)x, (int)y);
        var at = iy * Across + ix;
        var below = _shown[at] + (x - ix) * (_shown[at + 1] - _shown[at]);
        var above = _shown[at + Across] + (x - ix) * (_shown[at + Across + 1] - _shown[at + Across]);
        return below + (y - iy) * (above - below);
    }

    internal static double Tone(double radiance, double softbox) =>
        Math.Min(1, radiance * (1 + radiance / (softbox * softbox)) / (1 + radiance));
}
