using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// Bare cloth up close: stitches at wale and course pitch, loose fibres, heather streaks. A pattern finer than the
/// picture holds fades out instead of making moire.
/// </summary>
internal sealed class ClothWeave
{
    private readonly LinearRgb _mean;
    private readonly LinearRgb _pale;
    private readonly LinearRgb _dark;
    private readonly double _darkShare;
    private readonly Knit _knit;
    private readonly double _stitchDepth;
    private readonly double _fibreDepth;
    private readonly ulong _seed;

    public ClothWeave(Ground ground, ViewingLight light, double pixelsPerMm, ulong seed)
    {
        (_knit, _seed) = (ground.Garment.Knit, seed);
        _mean = BareCloth.Linear(ground, light);
        if (ground.Colour.HeatherFleck is { } fleck)
        {
            _darkShare = fleck.DarkShare;
            _pale = BareCloth.Linear(fleck.PaleFibre, light);
            _dark = BareCloth.Linear(fleck.DarkFibre, light);
        }
        // Full depth from 4 pixels a stitch on, none below 2 (the sampling theorem), straight between.
        _stitchDepth = 0.16 * Math.Clamp((pixelsPerMm * _knit.CoursePitchMm - 2) / 2, 0, 1);
        _fibreDepth = 0.035;
    }

    /// <summary>Light leaving the flat cloth at a point; the mean over the cloth is the measured colour.</summary>
    public LinearRgb At(double xMm, double yMm)
    {
        var colour = _darkShare > 0 ? Heather(xMm, yMm) : _mean;
        var factor = _stitchDepth > 0 ? 1 + _stitchDepth * Stitch(xMm, yMm) : 1;
        factor += _fibreDepth * SmoothNoise.At(_seed + 7, xMm / 0.9, yMm / 0.6);
        factor += 0.012 * SmoothNoise.At(_seed + 8, xMm / 22, yMm / 9);
        return new LinearRgb(colour.R * factor, colour.G * factor, colour.B * factor);
    }

    /// <summary>A knit stitch is a V: two legs that lean towards the middle of the wale.</summary>
    private double Stitch(double xMm, double yMm)
    {
        var u = xMm / _knit.WalePitchMm;
        u -= Math.Floor(u);
        var lean = Math.Abs(u - 0.5);
        var v = yMm / _knit.CoursePitchMm + lean;
        return 0.6 * Math.Cos(2 * Math.PI * v) - 0.4 * Math.Cos(2 * Math.PI * u);
    }

    /// <summary>Streaks of dark fibre 1 to 5 mm along the course.</summary>
    private LinearRgb Heather(double xMm, double yMm)
    {
        var course = Math.Floor(yMm / _knit.CoursePitchMm);
        var shift = 40 * SeededNoise.Uniform(_seed + 3, (long)course);
        var long_ = SmoothNoise.At(_seed + 4, (xMm + shift) / 3.2, course * 0.9);
        var short_ = SmoothNoise.At(_seed + 5, (xMm + shift) / 1.1, course * 1.7);
        var lean = 0.10 + 0.62 * (0.65 * long_ + 0.35 * short_);
        // Towards the dark fibre where the noise is high, towards the pale one where it is low; the two pulls balance so
        // that the mean stays the blend.
        return lean >= 0.1
            ? Mix(_mean, _dark, Math.Min(0.55, 0.55 * (lean - 0.1)))
            : Mix(_mean, _pale, Math.Min(0.6, 0.9 * (0.1 - lean)));
    }

    private static LinearRgb Mix(LinearRgb a, LinearRgb b, double t) =>
        new(a.R + t * (b.R - a.R), a.G + t * (b.G - a.G), a.B + t * (b.B - a.B));
}
