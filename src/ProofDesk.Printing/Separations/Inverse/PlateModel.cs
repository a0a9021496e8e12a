using System.Collections.Immutable;
using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Presses;

namespace ProofDesk.Printing.Separations.Inverse;

/// <summary>
/// What halftones of a plate set look like on one ground: coverages (as printed, after all growth) in, colour out.
/// The 2^n combinations of plates have the colours the press leaves ([NEUGEBAUER-1937]); how much area each covers follows from the
/// screens: independent ones by [DEMICHEL-1924], screens in step dot on dot, and where register is only partly held a
/// blend of both. What the inks send back by themselves averages as light does; what passed through cloth
/// averages between n = 1 and n = 2 of [YULE-NIELSEN-1951], whichever the ruling makes it (<see cref="OpticalGain"/>): the share
/// n - 1 of it as the square of the mean root, the rest as the mean. A base lets next to nothing through, so there n is 1 by itself.
/// One instance may be used from several threads, each with its own <see cref="Work"/>.
/// </summary>
internal sealed class PlateModel
{
    /// <summary>Results are Oklab x 100: a step of about 1 is one CIEDE2000 for greys.</summary>
    public const double Scale = 100;

    /// <summary>Share of register in the slopes of a search that is stuck on a kink, at most.</summary>
    private const float SoftNested = 0.6f;

    private readonly CornerBlend _blend;
    private readonly float _spread;
    private readonly float _nested;
    private readonly bool _mixes;
    private readonly ImmutableArray<ulong> _passesOf;
    private readonly StepPair? _pair;

    private PlateModel(CornerBlend blend, ImmutableArray<ulong> passesOf, double spread, double nested, StepPair? pair)
    {
        (_blend, _passesOf, _spread, _nested, _mixes) = (blend, passesOf, (float)spread, (float)nested, nested > 0);
        _pair = pair is { Held: > 0 } both && Runs(both.One) && Runs(both.Other) ? both : null;
    }

    /// <summary>Whether a plate prints on this ground.</summary>
    public bool Runs(int plate) => _passesOf[plate] != 0;

    public int Plates => _blend.Axes;

    /// <summary>Buffers of one thread.</summary>
    public sealed class Work(int plates)
    {
        public readonly float[] Value = new float[CornerBlend.Lanes];
        public readonly float[] Slopes = new float[CornerBlend.Lanes * plates];
        public readonly float[] OtherValue = new float[CornerBlend.Lanes];
        public readonly float[] OtherSlopes = new float[CornerBlend.Lanes * plates];
        public readonly float[] Scratch = new float[(CornerBlend.Lanes + 2) << plates];
        public readonly float[] At = new float[plates];
        public readonly float[] PartValue = new float[CornerBlend.Lanes];
        public readonly float[] PartSlopes = new float[CornerBlend.Lanes * plates];
    }

    /// <summary>Two plates on the same screen among others of other angles: their dots lie on each other.</summary>
    /// <param name="Held">How far register holds them there, 0 to 1.</param>
    public readonly record struct StepPair(int One, int Other, float Held);

    /// <param name="inks">The colours the passes leave.</param>
    /// <param name="passesOf">Passes of each plate as bits; 0 = it does not run here.</param>
    /// <param name="opticalN">Yule-Nielsen n of halftones on this bare cloth.</param>
    /// <param name="nested">0 = independent screens, 1 = dot on dot, between = register partly held.</param>
    /// <param name="quick">One point of the knit instead of all: for choosing inks.</param>
    /// <param name="pair">Where screens are independent, two that are not.</param>
    public static PlateModel Of(
        InkedCloth inks,
        ImmutableArray<ulong> passesOf,
        double opticalN,
        double nested,
        ViewingLight light,
        bool quick = false,
        StepPair? pair = null
    ) => Of(passesOf, passes => quick ? Quick(inks, passes, light) : Mean(inks, passes, light), opticalN, nested, pair);

    /// <summary>The same from colours that somebody keeps.</summary>
    /// <param name="colour">Colour of a set of passes, and what of it came through cloth; white has Y = 1.</param>
    public static PlateModel Of(
        ImmutableArray<ulong> passesOf,
        Func<ulong, (Xyz Mean, Xyz Through)> colour,
        double opticalN,
        double nested,
        StepPair? pair = null
    )
    {
        var spread = Math.Clamp(opticalN - 1, 0, 1);
        return new(new(passesOf.Length, Corner), passesOf, spread, nested, pair);

        void Corner(int code, Span<float> numbers)
        {
            var (mean, through) = colour(Passes(code, passesOf));
            (numbers[0], numbers[1], numbers[2]) = (
                (float)(mean.X - spread * through.X),
                (float)(mean.Y - spread * through.Y),
                (float)(mean.Z - spread * through.Z)
            );
            (numbers[4], numbers[5], numbers[6]) = (Root(through.X), Root(through.Y), Root(through.Z));
        }
    }

    /// <summary>Nested areas have a kink wherever two coverages are equal.</summary>
    public bool HasKinks => _nested > SoftNested || _pair is { Held: > SoftNested };

    /// <summary>Oklab x 100 at a point, and its slopes.</summary>
    /// <param name="slopes">Three runs of <paramref name="stride"/> numbers, one for each plate.</param>
    /// <param name="soft">Slopes of less register than there is: they lead away from a kink.</param>
    public (double L, double A, double B) At(
        ReadOnlySpan<float> coverages,
        Work work,
        Span<double> slopes,
        int stride,
        bool soft = false
    )
    {
        var (value, gradient) = Blend(coverages, work, soft);
        return BlendedLight.Seen(value, gradient, _spread, Scale, slopes, stride);
    }

    /// <summary>Oklab x 100 at a point.</summary>
    public (double L, double A, double B) At(ReadOnlySpan<float> coverages, Work work) =>
        BlendedLight.Seen(Value(coverages, work), _spread, Scale);

    /// <summary>Tristimulus values at a point; white has Y = 100.</summary>
    public Xyz Xyz(ReadOnlySpan<float> coverages, Work work)
    {
        var value = Value(coverages, work);
        return new(100 * Light(value, 0), 100 * Light(value, 1), 100 * Light(value, 2));
    }

    private float[] Value(ReadOnlySpan<float> coverages, Work work)
    {
        if (_nested < 1)
            _blend.Independent(coverages, work.Value, work.Scratch);
        if (_pair is { } pair)
            return Together(coverages, work, pair);
        if (!_mixes)
            return work.Value;
        _blend.Nested(coverages, work.OtherValue, []);
        if (_nested >= 1)
            return work.OtherValue;
        for (var i = 0; i < work.Value.Length; i++)
            work.Value[i] = _nested * work.OtherValue[i] + (1 - _nested) * work.Value[i];
        return work.Value;
    }

    private (float[] Value, float[] Slopes) Blend(ReadOnlySpan<float> coverages, Work work, bool soft)
    {
        if (!_mixes)
        {
            _blend.Independent(coverages, work.Value, work.Slopes, work.Scratch);
            if (_pair is { } pair)
                Together(coverages, work, pair, soft && HasKinks ? SoftNested : pair.Held);
            return (work.Value, work.Slopes);
        }
        _blend.Nested(coverages, work.Value, work.Slopes);
        soft &= HasKinks;
        if (_nested >= 1 && !soft)
            return (work.Value, work.Slopes);
        _blend.Independent(coverages, work.OtherValue, work.OtherSlopes, work.Scratch);
        for (var i = 0; i < work.Value.Length; i++)
            work.Value[i] = _nested * work.Value[i] + (1 - _nested) * work.OtherValue[i];
        var nested = soft ? SoftNested : _nested;
        for (var i = 0; i < work.Slopes.Length; i++)
            work.Slopes[i] = nested * work.Slopes[i] + (1 - nested) * work.OtherSlopes[i];
        return (work.Value, work.Slopes);
    }

    /// <summary>
    /// Dots of a pair in step: the smaller lies on the larger, so the cloth has both where the smaller is, the larger alone around
    /// it and neither elsewhere; each of these three is a print of the other plates. What register leaves of it is mixed in.
    /// </summary>
    private float[] Together(ReadOnlySpan<float> coverages, Work work, StepPair pair)
    {
        var (small, large) = InOrder(coverages, pair);
        Array.Clear(work.OtherValue);
        coverages.CopyTo(work.At);
        for (var part = 0; part < 3; part++)
        {
            (work.At[small], work.At[large]) = (part == 0 ? 1 : 0, part < 2 ? 1 : 0);
            var area = Area(part, coverages[small], coverages[large]);
            if (area == 0)
                continue;
            _blend.Independent(work.At, work.PartValue, work.Scratch);
            for (var i = 0; i < work.Value.Length; i++)
                work.OtherValue[i] += area * work.PartValue[i];
        }
        for (var i = 0; i < work.Value.Length; i++)
            work.Value[i] += pair.Held * (work.OtherValue[i] - work.Value[i]);
        return work.Value;
    }

    /// <summary>The same on value and slopes that are there for independent screens.</summary>
    /// <param name="inSlopes">Share of the pair's step in the slopes.</param>
    private void Together(ReadOnlySpan<float> coverages, Work work, StepPair pair, float inSlopes)
    {
        const int lanes = CornerBlend.Lanes;
        var (small, large) = InOrder(coverages, pair);
        Array.Clear(work.OtherValue);
        Array.Clear(work.OtherSlopes);
        coverages.CopyTo(work.At);
        for (var part = 0; part < 3; part++)
        {
            (work.At[small], work.At[large]) = (part == 0 ? 1 : 0, part < 2 ? 1 : 0);
            var area = Area(part, coverages[small], coverages[large]);
            _blend.Independent(work.At, work.PartValue, work.PartSlopes, work.Scratch);
            for (var i = 0; i < lanes; i++)
            {
                work.OtherValue[i] += area * work.PartValue[i];
                // The first part grows with the smaller dot at the cost of the second, which grows with the larger at the cost of the third.
                if (part < 2)
                    work.OtherSlopes[(part == 0 ? small : large) * lanes + i] += work.PartValue[i];
                if (part > 0)
                    work.OtherSlopes[(part == 1 ? small : large) * lanes + i] -= work.PartValue[i];
            }
            for (var plate = 0; plate < Plates; plate++)
            for (var i = 0; plate != small && plate != large && i < lanes; i++)
                work.OtherSlopes[plate * lanes + i] += area * work.PartSlopes[plate * lanes + i];
        }
        for (var i = 0; i < lanes; i++)
            work.Value[i] += pair.Held * (work.OtherValue[i] - work.Value[i]);
        for (var i = 0; i < work.Slopes.Length; i++)
            work.Slopes[i] += inSlopes * (work.OtherSlopes[i] - work.Slopes[i]);
    }

    private static (int Small, int Large) InOrder(ReadOnlySpan<float> coverages, StepPair pair) =>
        coverages[pair.One] <= coverages[pair.Other] ? (pair.One, pair.Other) : (pair.Other, pair.One);

    private static float Area(int part, float small, float large) =>
        part switch
        {
            0 => small,
            1 => large - small,
            _ => 1 - large,
        };

    private double Light(ReadOnlySpan<float> value, int axis) =>
        value[axis] + _spread * (double)value[4 + axis] * value[4 + axis];

    private static ulong Passes(int code, ImmutableArray<ulong> passesOf)
    {
        var passes = 0UL;
        for (var plate = 0; plate < passesOf.Length; plate++)
            if ((code >> plate & 1) != 0)
                passes |= passesOf[plate];
        return passes;
    }

    private static float Root(double through) => (float)Math.Sqrt(Math.Max(0, through));

    internal static (Xyz Mean, Xyz Through) Quick(InkedCloth inks, ulong passes, ViewingLight light)
    {
        var point = new ClothPoint(ThicknessSpread.Classes / 2, false);
        var (print, overBlack) = inks.Both(passes, point);
        var seen = 0.01 * Tristimulus.Of(print, light);
        return (seen, passes == 0 ? seen : seen + -0.01 * Tristimulus.Of(overBlack, light));
    }

    // As the press picture averages a code: over thickness classes and standing fibres (see CodeTable).
    internal static (Xyz Mean, Xyz Through) Mean(InkedCloth inks, ulong passes, ViewingLight light)
    {
        if (passes == 0)
        {
            var cloth = 0.01 * inks.Xyz(0, new(0, false), light);
            return (cloth, cloth);
        }
        var bare = inks.BareFibreShare(passes);
        var (sum, ink) = (new Xyz(0, 0, 0), new Xyz(0, 0, 0));
        for (var k = 0; k < ThicknessSpread.Classes; k++)
            foreach (var fibre in (ReadOnlySpan<bool>)[false, true])
            {
                var weight = (fibre ? bare : 1 - bare) / ThicknessSpread.Classes * 0.01;
                if (weight == 0)
                    continue;
                var (seen, overBlack) = inks.Both(passes, new(k, fibre));
                sum += weight * Tristimulus.Of(seen, light);
                ink += weight * Tristimulus.Of(overBlack, light);
            }
        return (sum, sum + -1 * ink);
    }
}
