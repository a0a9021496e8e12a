using ProofDesk.Imaging.Colour;
using ProofDesk.Imaging.Rasters;
using ProofDesk.Printing.Garments;

namespace ProofDesk.Printing.Presses;

/// <summary>
/// What makes unprinted cloth look like cloth: light and shade of the stitches, and for heather the streaks of two
/// fibres, 1 to 5 mm long along the course ([PHYSICS] 1.7). Both have the mean 1, so that means of solids stay exact; the
/// streaks tint only light that came through the cloth.
/// </summary>
internal sealed class ClothTexture
{
    /// <summary>Light and shade of bare cloth, relative (a drawing choice).</summary>
    private const float ShadeOfPaleCloth = 0.09f;
    private const float ShadeOfBlackCloth = 0.26f;

    private const int Levels = 64;
    private const int StreakWidth = 2048;
    private const int StreakHeight = 256;

    private readonly KnitTile _knit;
    private readonly float _shadeOfCloth;
    private readonly float _shadeOfInk;
    private readonly byte[]? _streaks;
    private readonly float[][] _tints = [new float[Levels], new float[Levels], new float[Levels]];

    public ClothTexture(
        Ground ground,
        KnitTile knit,
        PictureScale scale,
        ViewingLight light,
        ulong seed,
        float shadeOfInk
    )
    {
        (_knit, _shadeOfInk) = (knit, shadeOfInk);
        var pale = Math.Sqrt(Tristimulus.Of(ground.Colour.Reflectance, light).Y / 100);
        _shadeOfCloth = (float)(ShadeOfBlackCloth + (ShadeOfPaleCloth - ShadeOfBlackCloth) * Math.Min(1, pale));
        if (ground.Colour.HeatherFleck is not { } fleck)
            return;
        _streaks = Streaks(scale, seed ^ 0x4EA7);
        FillTints(fleck, light);
    }

    public bool IsHeather => _streaks is not null;

    /// <summary>Shade of cells from (x, y) on, given how much ink each carries (0..1).</summary>
    public void Shade(int x, int y, ReadOnlySpan<float> ink, Span<float> shade)
    {
        for (var i = 0; i < shade.Length; )
        {
            var (tileX, tileY, run) = _knit.At(x + i, y);
            var relief = _knit.Relief.AsSpan(tileY * _knit.Classes.CellsAcross + tileX);
            var end = Math.Min(shade.Length, i + run);
            for (var k = 0; i < end; i++, k++)
                shade[i] = 1 + relief[k] * (_shadeOfCloth + ink[i] * (_shadeOfInk - _shadeOfCloth));
        }
    }

    /// <summary>Tint of one tristimulus value (0 = X) of cells from (x, y) on.</summary>
    public void Tint(int channel, int x, int y, Span<float> tint)
    {
        if (_streaks is null)
        {
            tint.Fill(1);
            return;
        }
        var tints = _tints[channel];
        // A repeat downwards is moved sideways, so that repeats do not show; streaks are one yarn high, so none is cut.
        var turn = (int)(SeededNoise.Hash(_knit.Seed, 7, y >> 8) & (StreakWidth - 1));
        var streaks = _streaks.AsSpan((y & (StreakHeight - 1)) * StreakWidth, StreakWidth);
        for (var i = 0; i < tint.Length; i++)
            tint[i] = tints[streaks[(x + i + turn) & (StreakWidth - 1)]];
    }

    /// <summary>Level of dark fibre for each cell of a tile, equal areas, mostly calm with darker streaks.</summary>
    private static byte[] Streaks(PictureScale scale, ulong seed)
    {
        var noise = new float[StreakWidth * StreakHeight];
        for (var i = 0; i < noise.Length; i++)
            noise[i] = (float)SeededNoise.Uniform(seed, i % StreakWidth, i / StreakWidth);
        // Long and short fibres: running means of 3.5 mm and 1.2 mm along the course, one yarn high.
        var along = Row(noise, (int)Math.Round(3.5 / scale.CellMm));
        var shorter = Row(noise, (int)Math.Round(1.2 / scale.CellMm));
        var value = new float[noise.Length];
        for (var y = 0; y < StreakHeight; y++)
        for (var x = 0; x < StreakWidth; x++)
        {
            var i = y * StreakWidth + x;
            var above = (y + 1) % StreakHeight * StreakWidth + x;
            var elsewhere = (y * 7 + 3) % StreakHeight * StreakWidth + x;
            value[i] = along[i] + 0.7f * along[above] + 0.7f * shorter[elsewhere] + 0.4f * noise[i];
        }
        var order = new int[value.Length];
        for (var i = 0; i < order.Length; i++)
            order[i] = i;
        var keys = (float[])value.Clone();
        Array.Sort(keys, order);
        var levels = new byte[value.Length];
        for (var rank = 0; rank < order.Length; rank++)
            levels[order[rank]] = (byte)(rank * (long)Levels / order.Length);
        return levels;
    }

    private static float[] Row(float[] source, int length)
    {
        var result = new float[source.Length];
        for (var y = 0; y < StreakHeight; y++)
        {
            var row = source.AsSpan(y * StreakWidth, StreakWidth);
            // Sums start anew in each row and are short, so rounding stays the same on every machine.
            float sum = 0;
            for (var i = 0; i < length; i++)
                sum += row[i];
            for (var x = 0; x < StreakWidth; x++)
            {
                result[y * StreakWidth + x] = (sum / length - 0.5f) * MathF.Sqrt(length);
                sum += row[(x + length) % StreakWidth] - row[x];
            }
        }
        return result;
    }

    /// <summary>
    /// Local share of dark fibre from about half the mean to about twice, colour by Stearns and Noechel 1944,
    /// scaled so that the mean over all levels is the cloth's own colour.
    /// </summary>
    private void FillTints(HeatherFleck fleck, ViewingLight light)
    {
        for (var level = 0; level < Levels; level++)
        {
            var rank = (level + 0.5) / Levels;
            // Exponential-like quantile with mean 1: many calm places, few dark streaks.
            var relative = 0.6 - 0.4 * Math.Log(1 - rank);
            var share = Math.Clamp(fleck.DarkShare * relative, 0, 1);
            var xyz = Tristimulus.Of(StearnsNoechel.Blend(fleck.PaleFibre, fleck.DarkFibre, share), light);
            (_tints[0][level], _tints[1][level], _tints[2][level]) = ((float)xyz.X, (float)xyz.Y, (float)xyz.Z);
        }
        foreach (var tint in _tints)
        {
            var mean = tint.Average();
            for (var i = 0; i < tint.Length; i++)
                tint[i] /= mean;
        }
    }
}
