using ProofDesk.Printing.Metals;
using ProofDesk.Printing.Proofs;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// What a mirror shows at each place of the flat print, from <see cref="Metals.StudioLight"/>: the viewer stands near, so the place decides
/// which part of the studio is mirrored (a print's top shows the softbox, its bottom the dim room), and cloth laid down is never
/// quite flat. A coarse grid, because nothing in it is smaller than the waves of the cloth.
/// </summary>
internal sealed class StudioMirror
{
    /// <summary>Distance of the viewer from the middle of the print: arm's length.</summary>
    public const double ViewerMm = 700;

    /// <summary>Waves of cloth laid flat: angle and length of the long and the short ones (a proposal, judged by eye).</summary>
    private const double LongDegrees = 7;
    private const double LongMm = 42;
    private const double ShortDegrees = 3;
    private const double ShortMm = 13;

    private const double PitchMm = 2;
    private const double MarginMm = 20;

    private readonly float[] _shown;
    private readonly int _width;
    private readonly int _height;

    private StudioMirror(float[] shown, int width, int height, double roughness) =>
        (_shown, _width, _height, Roughness) = (shown, width, height, roughness);

    public double Roughness { get; }

    public static StudioMirror OfFlatPrint(double widthMm, double heightMm, double roughness, ulong seed)
    {
        var reflection = new StudioReflection(Metals.StudioLight.Default, roughness);
        var (width, height) = (Cells(widthMm), Cells(heightMm));
        var shown = new float[width * height];
        for (var j = 0; j < height; j++)
        for (var i = 0; i < width; i++)
        {
            var (x, y) = (i * PitchMm - MarginMm, j * PitchMm - MarginMm);
            // Away from the middle the view comes in at an angle; a mirror leaned by half of it shows the same.
            var right = Degrees(Math.Atan((x - widthMm / 2) / ViewerMm)) / 2 + Wave(seed, x, y);
            var up = Degrees(Math.Atan((heightMm / 2 - y) / ViewerMm)) / 2 + Wave(seed + 2, x, y);
            shown[j * width + i] = (float)reflection.Shown(right, up);
        }
        return new(shown, width, height, roughness);
    }

    /// <summary>
    /// One row. Column i of <paramref name="shown"/> is the view cell left + i, <paramref name="stepMm"/> wide, from the films' left edge.
    /// </summary>
    public void Row(int left, double stepMm, double yMm, Span<float> shown)
    {
        var y = Math.Clamp((yMm + MarginMm) / PitchMm, 0, _height - 1.001);
        var iy = (int)y;
        var fy = (float)(y - iy);
        var upper = _shown.AsSpan(iy * _width, _width);
        var lower = _shown.AsSpan((iy + 1) * _width, _width);
        for (var i = 0; i < shown.Length; i++)
        {
            var x = Math.Clamp(((left + i + 0.5) * stepMm + MarginMm) / PitchMm, 0, _width - 1.001);
            var ix = (int)x;
            var fx = (float)(x - ix);
            var above = upper[ix] + fx * (upper[ix + 1] - upper[ix]);
            var below = lower[ix] + fx * (lower[ix + 1] - lower[ix]);
            shown[i] = above + fy * (below - above);
        }
    }

    private static int Cells(double mm) => (int)Math.Ceiling((mm + 2 * MarginMm) / PitchMm) + 2;

    private static double Wave(ulong seed, double x, double y) =>
        LongDegrees * SmoothNoise.At(seed ^ 0xF01, (x + 0.4 * y) / LongMm, y / LongMm)
        + ShortDegrees * SmoothNoise.At(seed ^ 0xF02, x / ShortMm, (y - 0.3 * x) / ShortMm);

    private static double Degrees(double radians) => radians * 180 / Math.PI;
}
