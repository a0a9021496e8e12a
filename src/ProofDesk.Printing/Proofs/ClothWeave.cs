using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Proofs;

/// <summary>
/// Bare cloth up close: stitches of a knit or threads of a weave at their pitch, loose fibres, heather streaks. A pattern finer than the
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
    private readonly double _towardsDark;
    private readonly double _towardsPale;
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
            // Streaks as strong on a dark heather as on a pale one, and balanced so that the mean stays the blend.
            var (down, up) = (Math.Max(1e-3, Y(_mean) - Y(_dark)), Math.Max(1e-3, Y(_pale) - Y(_mean)));
            _towardsDark = Math.Min(1.2, 0.53 * Y(_mean) / down);
            _towardsPale = Math.Min(1.2, _towardsDark * down / up);
        }
        // Full depth from 4 pixels a stitch on, none below 2 (the sampling theorem), straight between.
        _stitchDepth = 0.16 * Math.Clamp((pixelsPerMm * _knit.CoursePitchMm - 2) / 2, 0, 1);
        _fibreDepth = 0.035;
    }

    /// <summary>Light leaving the flat cloth at a point; the mean over the cloth is the measured colour.</summary>
    public LinearRgb At(double xMm, double yMm)
    {
        var colour = _darkShare > 0 ? Heather(xMm, yMm) : _mean;
        var factor =
            _stitchDepth > 0
                ? 1
                    + _stitchDepth
                        * (
                            _knit.Woven
                                ? PlainWeave.Height(xMm / _knit.WalePitchMm, yMm / _knit.CoursePitchMm)
                                : Stitch(xMm, yMm)
                        )
                : 1;
        if (_knit.Woven)
            factor += Slubs(xMm, yMm);
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
        // Towards the dark fibre where the noise is high, towards the pale one where it is low.
        return lean >= 0.1
            ? Mix(_mean, _dark, Math.Min(0.6, _towardsDark * (lean - 0.1)))
            : Mix(_mean, _pale, Math.Min(0.6, _towardsPale * (0.1 - lean)));
    }

    /// <summary>Threads thicker and thinner than their neighbours, some centimetres long.</summary>
    private double Slubs(double xMm, double yMm) =>
        0.035 * SmoothNoise.At(_seed + 9, xMm / (1.4 * _knit.WalePitchMm), yMm / 34)
        + 0.045 * SmoothNoise.At(_seed + 10, xMm / 30, yMm / (1.4 * _knit.CoursePitchMm));

    private static double Y(LinearRgb c) => 0.2126 * c.R + 0.7152 * c.G + 0.0722 * c.B;

    private static LinearRgb Mix(LinearRgb a, LinearRgb b, double t) =>
        new(a.R + t * (b.R - a.R), a.G + t * (b.G - a.G), a.B + t * (b.B - a.B));
}
